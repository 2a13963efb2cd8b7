//! What must hold on every car: random plausible cars, random poses.

mod axle_sweeps;
mod derivatives;
mod knuckles;
mod links;
mod mirror;
mod nonsense;
mod random_car;
mod sensitivities;
mod side_by_side;

use wheelpath_geometry::{AxleValues, Reading, WheelValues, axle_readings, wheel_readings};

/// Every reading of both wheels and the axle, by name, with not-a-number where there is none.
fn all_values(wheels: &[WheelValues; 2], axle: &AxleValues) -> Vec<(usize, &'static Reading, f64)> {
    let wheel = |place: usize| {
        let values = &wheels[place];
        wheel_readings().iter().map(move |r| (place, r, values.get(r).unwrap_or(f64::NAN)))
    };
    let of_axle = axle_readings().iter().map(|r| (2, r, axle.get(r).unwrap_or(f64::NAN)));
    wheel(0).chain(wheel(1)).chain(of_axle).collect()
}

/// Whether two numbers agree, relative to their size where they have one; readings with a pole are
/// ill-conditioned by the square of their size.
fn agree(a: f64, b: f64, tolerance: f64) -> bool {
    (a.is_nan() && b.is_nan()) || (a - b).abs() <= tolerance * (1.0 + b * b)
}
