//! Sweeps an axle over travel and prints a CSV table:
//! `cargo run -p wheelpath-examples --bin sweep_to_csv`

use std::error::Error;
use std::io::{Write, stdout};
use wheelpath_car_file::parse;
use wheelpath_geometry::{Car, CarSolver, End, LengthUnit, Stop, Travelling, over_travel, reading, spaced};

/// Readings of the left front wheel, one line a travel of both wheels; empty where a pose is out of
/// reach. Travels in metres.
fn travel_table(car: &Car, from: f64, to: f64, count: usize, keys: &[&str]) -> Result<String, Vec<Stop>> {
    let solver = CarSolver::new(car)?;
    let poses = over_travel(Travelling::Both, &spaced(from, to, count), 0.0);
    let readings: Vec<_> = keys.iter().filter_map(|key| reading(key)).collect();
    let mm = LengthUnit::Millimetre;
    let mut table = "travel_mm".to_owned();
    for reading in &readings {
        table += &format!(",{}{}", reading.key, reading.unit.key_suffix(mm));
    }
    table.push('\n');
    for point in solver.axle(End::Front).sweep(&poses) {
        let [left, _] = point.pose.travel;
        table += &(left * 1e3).to_string();
        for reading in &readings {
            let value = point.result.as_ref().ok().and_then(|values| values.wheels[0].get(reading));
            let shown = value.map(|value| (value * reading.unit.data_factor(mm)).to_string());
            table += &format!(",{}", shown.unwrap_or_default());
        }
        table.push('\n');
    }
    Ok(table)
}

fn main() -> Result<(), Box<dyn Error>> {
    let car = parse(include_str!("../demo-cars/alder.ron"), "alder.ron")?.car;
    let keys = ["toe", "camber_to_body", "caster", "half_track_change"];
    let table = travel_table(&car, -0.030, 0.030, 13, &keys).map_err(|stops| format!("{stops:?}"))?;
    stdout().write_all(table.as_bytes())?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_a_pose_and_a_column_a_reading() {
        let car = parse(include_str!("../demo-cars/alder.ron"), "alder.ron").unwrap().car;
        let table = travel_table(&car, -0.03, 0.2, 3, &["toe", "track", "motion_ratio"]).unwrap();
        let lines: Vec<Vec<&str>> = table.lines().map(|line| line.split(',').collect()).collect();
        assert_eq!(lines[0], ["travel_mm", "toe_deg", "track_mm", "motion_ratio"]);
        assert_eq!(lines.len(), 4);
        assert_eq!(lines[1][0], "-30");
        // The track is no wheel's reading, and 200 mm of bump is beyond the pushrod.
        assert!(lines[1][1].parse::<f64>().unwrap().abs() < 0.1 && lines[1][2].is_empty(), "{table}");
        assert_eq!(lines[3], ["200", "", "", ""]);
        assert!(main().is_ok());
    }
}
