//! Roll centre and track of an axle.

use super::absent;
use crate::axle::axle_motion::AxleMotion;
use crate::corner::corner_motion::CornerMotion;
use crate::number::real::Real;

/// Sine of the angle between the two lines below which their crossing is not told from "parallel".
const CROSSING: f64 = 1e-9;

/// The point of a beam axle that opposite travels of its wheels do not move in front view, across the
/// car midway between the wheel centres: sideways from the middle between the contacts, and height.
fn beam_centre<T: Real>(axle: &AxleMotion<T>) -> [T; 2] {
    let half = T::constant(0.5);
    let (left, n) = (axle.ground.left(), axle.ground.normal);
    // Left wheel up and right wheel down by the same, seen at the left wheel centre.
    let (a, b) = (axle.left.in_roll().unwrap_or(axle.left), &axle.right);
    let (v, w) = (a.by_travel.v, a.by_travel.w);
    let middle = (a.wheel_centre + b.wheel_centre) * half;
    let v = v + w.cross(&(middle - a.wheel_centre));
    let turn = w.dot(&axle.ground.forward());
    let centre = middle + left * (-v.dot(&n) / turn) + n * (v.dot(&left) / turn);
    let contacts = (axle.left_on_ground.contact + axle.right_on_ground.contact) * half;
    [left.dot(&(centre - contacts)), axle.ground.above(&centre)]
}

readings! {
    scope Axle; group Roll;
    values(axle: AxleMotion) {
        let c = T::constant;
        // In the road's own axes seen from behind: s to the left along it, h up from it.
        let (left, n) = (axle.ground.left(), axle.ground.normal);
        let (pl, pr) = (axle.left_on_ground.contact, axle.right_on_ground.contact);
        let along = |v: &nalgebra::Vector3<T>| v.dot(&left);
        let above = |v: &nalgebra::Vector3<T>| v.dot(&n);
        // On a beam axle the wheels move each other: there the velocities are those of opposite travels.
        let rolling = |corner: &CornerMotion<T>| corner.in_roll().unwrap_or(*corner);
        let ul = axle.left_on_ground.contact_velocity(&rolling(&axle.left));
        let ur = axle.right_on_ground.contact_velocity(&rolling(&axle.right));
        let (sl, sr) = (along(&pl), along(&pr));
        let middle = (sl + sr) * c(0.5);
        // A hanging wheel's contact is its lowest point: not on the ground.
        let (hl, hr) = (axle.ground.above(&pl), axle.ground.above(&pr));
        // Each line through a contact, square to its velocity: h = h_contact - (u_s / u_h) (s - s_contact).
        let (gl, gr) = (along(&ul) / above(&ul), along(&ur) / above(&ur));
        let difference = gl - gr;
        let cross = (gl * sl - gr * sr + hl - hr) / difference;
        let crosses = difference.value().abs() > CROSSING;
        let at = |s: T| hl - gl * (s - sl);
        let beam = axle.context.beam.then(|| beam_centre(axle));
        let mean = (hl - gl * (middle - sl) + hr - gr * (middle - sr)) * c(0.5);
        let track = along(&(pl - pr));
    }

    "roll_centre_height", "Roll-centre height", Length in Roll,
    sign "+ above the ground",
    "Height over the ground of the crossing of the two lines through the contacts, each square to the velocity of the upright there, in front view. Where the lines are parallel: the mean height on the mid-plane. Of a beam axle: the point that opposite wheel travels do not move in front view.",
    formula "crossing of u_left · (X - P_left) = 0 and u_right · (X - P_right) = 0",
    source "SAE J670 term (read about)",
    absent ""
    => match beam {
        Some([_, height]) => height,
        None if crosses => at(cross),
        None => mean,
    };

    "roll_centre_lateral", "Roll-centre offset, lateral", Length in Roll,
    sign "+ to the left of the middle between the contacts",
    "Sideways distance of the roll centre from the middle between the contact points, along the ground.",
    formula "as the roll-centre height",
    source "SAE J670 term (read about)",
    absent "the two lines are parallel: the height is the mean on the mid-plane"
    => match beam {
        Some([lateral, _]) => lateral,
        None if crosses => cross - middle,
        None => absent(),
    };

    "roll_centre_mean_height", "Roll-centre height on the mid-plane", Length in Roll,
    sign "+ above the ground",
    "Mean of the heights at which the two lines through the contacts, each square to the velocity there, pass the middle between the contacts: steady where their crossing runs away. On a beam axle the velocities are those of opposite wheel travels.",
    formula "mean of both lines' heights at the middle",
    source "this program's definition",
    absent ""
    => mean;

    "track", "Track", Length,
    sign "+",
    "Distance between the contact points along the ground.",
    formula "(P_left - P_right) along the ground, across the car",
    source "ISO 8855, as recalled",
    absent ""
    => track;

    "ground_angle", "Ground angle to the body", Degree,
    sign "+ ground's left side up",
    "Angle about X of the ground, seen from the body: the line both tyres touch, or the car's one plane where it stands on a road.",
    formula "angle at which both tyres' lowest points are level",
    source "this program's definition",
    absent ""
    => axle.ground.angle();
}
