//! Closing a beam axle in its design pose; where it has knuckles, with drag link and track rod so long that the wheels
//! have the toe that is asked for.

use crate::axle::beam_model::BeamModel;
use crate::car::hardpoint::Link;
use crate::car::{Alignment, CamberBy, ToeBy};
use crate::corner::align::{larger, toe_and_camber};
use crate::corner::corner_motion::Reference;
use crate::linkage::assemble::{NotAssembled, assemble};
use crate::linkage::{Beam, beam_links, beam_mechanism, toe_links};
use crate::mechanism::stop::{Stop, StopKind};
use crate::mechanism::{Factors, Input, PathLimit, Traced};
use crate::number::real::Real;
use nalgebra::Vector3;
use num_dual::Dual64;

pub(super) fn dead_point(limit: PathLimit) -> Stop {
    Stop::new(StopKind::DeadPoint, limit.at.travel[0], limit.at.steer, limit.links, limit.residual)
}

pub(super) fn no_mechanism(what: &'static str) -> Stop {
    Stop::new(StopKind::NoMechanism, 0.0, 0.0, vec![what], 0.0)
}

/// Closes an axle at zero travel, straight ahead.
pub(super) fn assembled<const B: usize, const N: usize>(beam: &Beam<f64>) -> Result<Traced<B, N>, Stop> {
    let build = |share: f64| {
        beam_mechanism(&beam.partly(share))
            .map_err(|_| no_mechanism("the axle's links do not hold it in just four ways"))
    };
    assemble(beam.fits(), build, dead_point).map_err(|not| match not {
        NotAssembled::AsDrawn(stop) => stop,
        NotAssembled::Share(share) => cannot_assemble(beam, share),
    })
}

fn cannot_assemble(beam: &Beam<f64>, share: f64) -> Stop {
    let part = beam.partly(share);
    let mut links = Vec::new();
    let mut lacking = 0.0_f64;
    let [left, right, own] = beam_links(beam);
    let sets = [
        (left, &beam.sides[0].set, &part.sides[0].set),
        (right, &beam.sides[1].set, &part.sides[1].set),
        (own, &beam.own, &part.own),
    ];
    for (of, whole, partly) in sets {
        for link in of {
            let here = whole.length(link) - partly.length(link);
            if here != 0.0 {
                links.push(link.label());
                lacking = larger(lacking, here);
            }
        }
    }
    Stop::new(StopKind::CannotAssemble, 0.0, 0.0, links, lacking)
}

/// An axle whose links are set, and by how much each of those is longer than it was, metres.
pub(super) type Aligned = (Beam<f64>, Vec<(Link, f64)>);

/// Makes drag link and track rod so long that the wheels have the toe that is asked for, and says by how much each is
/// longer than it was. The drag link sets the knuckle that it steers, the track rod the other one.
pub(super) fn align_beam<const B: usize, const N: usize>(
    beam: &Beam<f64>,
    wanted: [Alignment; 2],
) -> Result<Aligned, Stop> {
    let none = |what| Stop::new(StopKind::CannotAlign, 0.0, 0.0, vec![what], 0.0);
    if wanted.iter().any(|one| one.camber != CamberBy::Points) {
        return Err(none("an adjuster that a beam axle has not"));
    }
    // Which wheel, its toe, and the link that sets it.
    let mut asked: Vec<(usize, f64, Link)> = Vec::new();
    for (wheel, one) in wanted.iter().enumerate() {
        if let ToeBy::TieRodLength(toe) = one.toe {
            let links = toe_links(beam).ok_or_else(|| none("an adjuster that a beam axle has not"))?;
            asked.push((wheel, toe, links[wheel]));
        }
    }
    let mut beam = beam.clone();
    let mut adjusted: Vec<(Link, f64)> = asked.iter().map(|&(_, _, link)| (link, 0.0)).collect();
    if asked.is_empty() {
        return Ok((beam, adjusted));
    }
    let names: Vec<&'static str> = asked.iter().map(|(_, _, link)| link.label()).collect();
    let failed = || Stop::new(StopKind::CannotAlign, 0.0, 0.0, names.clone(), 0.0);
    for round in 0..12 {
        let traced = assembled::<B, N>(&beam)?;
        let here = toes(&beam, &traced, None).ok_or_else(failed)?.map(|toe| toe.re);
        let mut error = [0.0; 2];
        let mut slope = [[1.0, 0.0], [0.0, 1.0]];
        for &(wheel, toe, _) in &asked {
            error[wheel] = toe - here[wheel];
        }
        // As a corner's: the last digit of its points does not say whether it can be aligned.
        let enough = if round < 8 { 1e-14 } else { 1e-11 };
        if error.iter().all(|e| e.abs() < enough) {
            return Ok((beam, adjusted));
        }
        for &(column, _, link) in &asked {
            let by = toes(&beam, &traced, Some(link)).ok_or_else(failed)?;
            for &(row, _, _) in &asked {
                slope[row][column] = by[row].eps;
            }
        }
        let change = Factors::of(slope).solve(&error);
        if !change.iter().all(|c| c.abs() < 0.1) {
            return Err(failed());
        }
        for (&(wheel, _, link), (_, by)) in asked.iter().zip(&mut adjusted) {
            beam.own.add_to_length(link, change[wheel]);
            *by += change[wheel];
        }
        if change.iter().all(|c| c.abs() < 1e-15) {
            return Ok((beam, adjusted));
        }
    }
    Err(failed())
}

/// Toe of both wheels with its derivative to the length of a link, radians.
fn toes<const B: usize, const N: usize>(
    beam: &Beam<f64>,
    traced: &Traced<B, N>,
    by: Option<Link>,
) -> Option<[Dual64; 2]> {
    let mut dual = beam.lifted::<Dual64>();
    if let Some(link) = by {
        dual.own.add_to_length(link, Dual64::new(0.0, 1.0));
    }
    // Damper and bar do not bear on toe; left out, they cannot fail here.
    for side in &mut dual.sides {
        side.springing = None;
        side.drop_link_on = None;
    }
    let model = BeamModel::<_, B, N>::new(dual).ok()?;
    let zero = Input::new(Dual64::constant(0.0), Dual64::constant(0.0));
    let closed = model.mechanism.carry(&traced.closed.bodies.map(|body| body.cast()), &zero);
    let unset = Reference { wheel_centre: Vector3::zeros(), contact_y: Dual64::constant(0.0) };
    let [left, right] = model.motions(&closed, &[unset; 2]).ok()?;
    Some([&left, &right].map(|motion| toe_and_camber(motion)[0]))
}
