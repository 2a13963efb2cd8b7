//! Closing a corner in its design pose, and moving its adjusters until toe and camber are the asked ones.

use crate::car::parameter::ScalarParameter;
use crate::car::{Alignment, CamberBy, ToeBy};
use crate::corner::corner_model::CornerModel;
use crate::corner::corner_motion::{CornerMotion, Reference};
use crate::corner::on_ground::OnGround;
use crate::linkage;
use crate::linkage::assemble::{NotAssembled, assemble as assembled};
use crate::linkage::design::Design;
use crate::mechanism::stop::{Stop, StopKind};
use crate::mechanism::{Input, Mechanism, PathLimit, Traced};
use crate::number::real::{Real, up};
use nalgebra::Vector3;
use num_dual::Dual64;

fn mechanism_of(design: &Design<f64>) -> Result<Mechanism<f64, 1, 6>, Stop> {
    linkage::mechanism(design).map_err(|_| Stop::new(StopKind::NoMechanism, 0.0, 0.0, Vec::new(), 0.0))
}

/// Closes a corner at zero travel.
pub(crate) fn assemble(design: &Design<f64>) -> Result<Traced<1, 6>, Stop> {
    assembled(design.fits(), |share| mechanism_of(&design.partly(share)), dead_point).map_err(|not| match not
    {
        NotAssembled::AsDrawn(stop) => stop,
        NotAssembled::Share(share) => cannot_assemble(design, share),
    })
}

/// Whichever is the further from nothing.
pub(crate) fn larger(one: f64, other: f64) -> f64 {
    if other.abs() > one.abs() { other } else { one }
}

fn cannot_assemble(design: &Design<f64>, share: f64) -> Stop {
    let part = design.partly(share);
    let mut links = Vec::new();
    let mut lacking = 0.0_f64;
    for link in linkage::links(design.linkage, design.steered) {
        let here = design.length(link) - part.length(link);
        if here != 0.0 {
            links.push(link.label());
            lacking = larger(lacking, here);
        }
    }
    if design.camber_adjuster != 0.0 {
        links.extend(design.linkage.camber_adjuster());
        lacking = larger(lacking, design.camber_adjuster - part.camber_adjuster);
    }
    Stop::new(StopKind::CannotAssemble, 0.0, 0.0, links, lacking)
}

/// What alignment's adjusters come to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Adjusted {
    /// Change of the tie rod's (toe link's) length against the points, metres.
    pub toe_link_change: f64,
    /// The camber adjuster, metres: see [`ScalarParameter::CamberAdjuster`].
    pub camber_adjuster: f64,
}

/// A path that ends there, as what a linkage meets.
pub(crate) fn dead_point(limit: PathLimit) -> Stop {
    Stop::new(StopKind::DeadPoint, limit.at.travel[0], limit.at.steer, limit.links, limit.residual)
}

/// Steer-free toe and camber to the body at zero travel, radians.
pub(crate) fn toe_and_camber<T: Real>(motion: &CornerMotion<T>) -> [T; 2] {
    let wheel = OnGround::of(motion, up());
    [-wheel.forward.y.atan2(wheel.forward.x) * motion.sign(), wheel.camber()]
}

/// Moves the adjusters until toe and camber are the asked ones.
pub(crate) fn align(base: &Design<f64>, wanted: Alignment) -> Result<(Design<f64>, Adjusted), Stop> {
    let mut asked: Vec<(usize, f64, ScalarParameter)> = Vec::new();
    let mut names: Vec<&'static str> = Vec::new();
    let none = |what| Stop::new(StopKind::CannotAlign, 0.0, 0.0, vec![what], 0.0);
    if let ToeBy::TieRodLength(toe) = wanted.toe {
        let link = base.toe_link().ok_or_else(|| none("a toe link that this linkage has not"))?;
        asked.push((0, toe, ScalarParameter::length(link)));
        names.push("toe link or tie rod length");
    }
    if let CamberBy::Adjuster(camber) = wanted.camber {
        let name = base
            .linkage
            .camber_adjuster()
            .ok_or_else(|| none("a camber adjuster that this linkage has not"))?;
        asked.push((1, camber, ScalarParameter::CamberAdjuster));
        names.push(name);
    }
    let mut design = base.clone();
    let mut adjusted = Adjusted::default();
    if asked.is_empty() {
        return Ok((design, adjusted));
    }
    let failed = || Stop::new(StopKind::CannotAlign, 0.0, 0.0, names.clone(), 0.0);
    for round in 0..12 {
        let traced = assemble(&design)?;
        let here = alignment_of(&design, &traced, None).ok_or_else(failed)?.map(|d| d.re);
        let mut error = [0.0; 2];
        let mut slope = [[1.0, 0.0], [0.0, 1.0]];
        for &(which, target, _) in &asked {
            error[which] = target - here[which];
        }
        // A linkage that is closed to rounding can be aligned only so far where its levers are long; whether
        // it can must not hang on the last digit of its points.
        let enough = if round < 8 { 1e-14 } else { 1e-11 };
        if error.iter().all(|e| e.abs() < enough) {
            return Ok((design, adjusted));
        }
        for &(column, _, parameter) in &asked {
            let by = alignment_of(&design, &traced, Some(parameter)).ok_or_else(failed)?;
            for &(row, _, _) in &asked {
                slope[row][column] = by[row].eps;
            }
        }
        let change = crate::mechanism::Factors::of(slope).solve(&error);
        if !change.iter().all(|c| c.abs() < 0.1) {
            return Err(failed());
        }
        for &(which, _, parameter) in &asked {
            design.add(parameter, change[which]);
            if parameter == ScalarParameter::CamberAdjuster {
                adjusted.camber_adjuster += change[which];
            } else {
                adjusted.toe_link_change += change[which];
            }
        }
        if change.iter().all(|c| c.abs() < 1e-15) {
            return Ok((design, adjusted));
        }
    }
    Err(failed())
}

fn alignment_of(
    design: &Design<f64>,
    traced: &Traced<1, 6>,
    by: Option<ScalarParameter>,
) -> Option<[Dual64; 2]> {
    let mut dual = design.lifted();
    if let Some(parameter) = by {
        dual.add(parameter, Dual64::new(0.0, 1.0));
    }
    // The damper and bar do not bear on toe and camber; left out, they cannot fail here.
    dual.springing = None;
    dual.drop_link_on = None;
    let model = CornerModel::new(dual).ok()?;
    let zero = Input::new(Dual64::constant(0.0), Dual64::constant(0.0));
    let closed = model.mechanism.carry(&traced.closed.bodies.map(|body| body.cast()), &zero);
    let unset = Reference { wheel_centre: Vector3::zeros(), contact_y: Dual64::constant(0.0) };
    Some(toe_and_camber(&model.motion(&closed, &unset).ok()?))
}
