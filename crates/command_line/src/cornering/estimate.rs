//! The estimate of a car's roll, with all that goes into it.

use crate::before_after::BeforeAfter;
use crate::cornering::estimate_record::{AxleEstimateRecord, per_degree};
use wheelpath_geometry::{
    Car, Estimate, FARTHEST_TOLD, GRAVITY, LEFT_OUT, LengthUnit, NEARLY_PARALLEL, RollModelInputs, Unit,
};
use wheelpath_report::{Align, Table, fixed, wrap};

fn percent(share: f64) -> f64 {
    share * Unit::Percent.data_factor(LengthUnit::Millimetre)
}

/// One number of an axle, in the unit shown.
struct OfAxle {
    label: &'static str,
    unit: &'static str,
    decimals: usize,
    value: fn(&AxleEstimateRecord) -> f64,
}

const fn of_axle(
    label: &'static str,
    unit: &'static str,
    decimals: usize,
    value: fn(&AxleEstimateRecord) -> f64,
) -> OfAxle {
    OfAxle { label, unit, decimals, value }
}

/// What each axle brings, and what it does, in the order shown; lengths stand apart.
const OF_AXLE: [OfAxle; 10] = [
    of_axle("Springs, both wheels up", "N/mm", 2, |axle| axle.heave_stiffness.0),
    of_axle("Roll stiffness of the springs", "N·m/°", 0, |axle| axle.roll_stiffness_of_springs.0),
    of_axle("Roll stiffness of the anti-roll bar", "N·m/°", 0, |axle| axle.roll_stiffness_of_bar.0),
    of_axle("Load lost as the left side rolls up", "N/°", 1, |axle| axle.heave_by_roll.0),
    of_axle("Roll stiffness", "N·m/°", 0, |axle| axle.roll_stiffness.0),
    of_axle("Roll-stiffness distribution", "%", 1, |axle| percent(axle.roll_stiffness_share.0)),
    of_axle("Geometric load transfer, to the outer wheel", "N per g", 0, |axle| axle.transfer_by_links.0),
    of_axle("Elastic load transfer, to the outer wheel", "N per g", 0, |axle| axle.transfer_by_springs.0),
    of_axle("Load gained per g longitudinal", "N per g", 0, |axle| axle.transfer_longitudinal.0),
    of_axle("Of that the links carry past the springs", "%", 1, |axle| {
        axle.carried.map_or(f64::NAN, |share| percent(share.0))
    }),
];

/// What a number that data has in this unit is multiplied by to be said in the system of these lengths, and
/// the unit it then has.
fn said_in(unit: &str, lengths: LengthUnit) -> (f64, String) {
    let ((force, newton), (moment, newton_metre)) = (lengths.force_unit(), lengths.moment_unit());
    let rate = Unit::SpringRate;
    if unit == rate.data_symbol(lengths) {
        (rate.shown(1.0, lengths) / rate.data_factor(lengths), rate.symbol(lengths).to_owned())
    } else if let Some(rest) = unit.strip_prefix("N·m") {
        (moment, format!("{newton_metre}{rest}"))
    } else if let Some(rest) = unit.strip_prefix('N') {
        (force, format!("{newton}{rest}"))
    } else {
        (1.0, unit.to_owned())
    }
}

/// The estimate for people, before and after proposals where there are any.
pub(crate) fn estimate_in_words(
    estimates: &BeforeAfter<(&Estimate, &Car)>,
    braking: bool,
    lengths: LengthUnit,
) -> String {
    let lead = ["before: ", "after: "];
    let mut text = estimates.map(|(one, car)| masses_in_words(one, car, lengths)).words(lead);
    text += &estimates.map(|(one, _)| axle_table(one, lengths)).table(1).text();
    let far = |axle: &RollModelInputs| axle.roll_centre_height.abs() > FARTHEST_TOLD;
    if estimates.iter().any(|(one, _)| one.from.axles.iter().any(far)) {
        text +=
            &wrap(&format!("— {NEARLY_PARALLEL}: Roll-centre height, and the roll depends on it"), 96, "  ");
        text.push('\n');
    }
    text += &estimates.map(|(one, _)| lean_in_words(one, braking, lengths)).words(lead);
    text += &wrap(&format!("Left out: {}.", LEFT_OUT.join("; ")), 96, "  ");
    text.push('\n');
    text
}

fn axle_table(estimate: &Estimate, lengths: LengthUnit) -> Table {
    let from = &estimate.from;
    let mut table = Table::new(&[
        ("What the estimate stands on, and gives", Align::Left),
        ("front", Align::Right),
        ("rear", Align::Right),
        ("", Align::Left),
    ]);
    for (name, of) in [
        ("Roll-centre height", (|axle| axle.roll_centre_height) as fn(&RollModelInputs) -> f64),
        ("Track at the contacts", |axle| axle.stiffness.track),
    ] {
        let mut row = vec![format!("  {name}")];
        // A roll centre that lies far away is no height to a person; the estimate counts with it as it is.
        let told = |length: f64| if length.abs() > FARTHEST_TOLD { f64::NAN } else { length };
        row.extend(from.axles.iter().map(|axle| Unit::Length.write_number(told(of(axle)), lengths)));
        row.push(Unit::Length.symbol(lengths).to_owned());
        table.row(row);
    }
    let axles = from.axles.iter().zip(&estimate.axles);
    let axles: Vec<_> = axles.map(|(from, axle)| AxleEstimateRecord::of(from, axle)).collect();
    for one in &OF_AXLE {
        let values = axles.iter().map(one.value);
        let mut row = vec![format!("  {}", one.label)];
        let (factor, unit) = said_in(one.unit, lengths);
        row.extend(values.map(|value| fixed(value * factor, one.decimals)));
        row.push(unit);
        table.row(row);
    }
    table
}

fn masses_in_words(estimate: &Estimate, car: &Car, lengths: LengthUnit) -> String {
    let length = |metres: f64| Unit::Length.write(metres, lengths);
    let (from, (mass, kilogram)) = (&estimate.from, lengths.mass_unit());
    let mut text = format!(
        "Mass {} {kilogram}, {} % of it on the front wheels, centre of gravity {} over the road, wheelbase {}\n",
        fixed(from.mass * mass, 0),
        fixed(percent(from.weight_share_front), 1),
        length(from.centre_of_gravity_height),
        length(from.wheelbase)
    );
    if let Some([left, cross]) = car.left_and_cross_share() {
        text += &format!(
            "Left weight {} %, cross weight {} % (right front and left rear)\n",
            fixed(percent(left), 1),
            fixed(percent(cross), 1)
        );
    }
    text
}

fn lean_in_words(estimate: &Estimate, braking: bool, lengths: LengthUnit) -> String {
    let length = |metres: f64| Unit::Length.write(metres, lengths);
    let (gradients, (factor, stiffness)) = (&estimate.gradients, said_in("N·m/°", lengths));
    let way = if braking { "braking" } else { "gaining speed" };
    format!(
        "Roll axis {} over the road under the centre of gravity: lever {}; roll stiffness {} {stiffness}\n\
         Roll {}° per g lateral; ride height front {}, rear {} per g longitudinal,\n  {way}\n",
        length(estimate.roll_axis_height),
        length(estimate.roll_lever),
        fixed(per_degree(estimate.roll_stiffness) * factor, 0),
        fixed(gradients.roll.to_degrees() * GRAVITY, 3),
        length(gradients.front * GRAVITY),
        length(gradients.rear * GRAVITY)
    )
}
