//! The instant centre as a drawing board gives it: where the lines cross in which the planes of the
//! wishbones cut the wheel's plane. The exact one of the moving upright may stand beside it, since
//! the real motion is a screw; the stage says how far.

use nalgebra::Vector3;
use wheelpath_geometry::{Component, Corner, CornerMotion, Hardpoint};

/// The crossing in the plane square to axis `across` (0 = X, 1 = Y) through the wheel centre; `None`
/// for a linkage without two wishbones, where the lines are parallel, or where an arm's plane stands upright in the view.
pub(super) fn crossing(corner: &Corner, motion: &CornerMotion<f64>, across: usize) -> Option<Vector3<f64>> {
    use Hardpoint as P;
    let has = |part| corner.linkage.spec().carries_on(part);
    if !(has(Component::UpperWishbone) && has(Component::LowerWishbone)) {
        return None;
    }
    let axis = motion.steering_axis?;
    let centre = motion.wheel_centre;
    let along = 1 - across;
    // Height of the line over the coordinate `along`: a point of it and its slope.
    let line = |front: P, rear: P, ball: Vector3<f64>| {
        let (front, rear) = (corner.hardpoints.get(front)?, corner.hardpoints.get(rear)?);
        let normal = (front - rear).cross(&(ball - rear));
        let slope = -normal[along] / normal.z;
        let height = ball.z - normal[across] / normal.z * (centre[across] - ball[across]);
        (slope.is_finite() && height.is_finite()).then_some((ball[along], height, slope))
    };
    let upper = line(P::UpperWishboneFront, P::UpperWishboneRear, axis.upper())?;
    let lower = line(P::LowerWishboneFront, P::LowerWishboneRear, axis.point)?;
    let run = (lower.1 - upper.1 - lower.2 * (lower.0 - upper.0)) / (upper.2 - lower.2);
    let mut at = centre;
    at[along] = upper.0 + run;
    at.z = upper.1 + upper.2 * run;
    at.iter().all(|x| x.is_finite()).then_some(at)
}
