//! Plausible cars: a sound one with every point moved by up to 15 mm, with and without alignment and
//! stated lengths.

use nalgebra::Vector3;
use proptest::prelude::*;
use std::path::Path;
use std::sync::LazyLock;
use wheelpath_geometry::{Alignment, CamberBy, Car, Corner, End, Hardpoint, Link, Side, ToeBy};
use wheelpath_tests::{demo, reference_car};

/// How far a point may be moved along each axis, metres.
const MOVED: f64 = 0.015;

static SOUND: LazyLock<[Car; 2]> = LazyLock::new(|| {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("calibration/dw01_front_rack_behind.json");
    let file = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    [demo::alder(), reference_car::car(&file)]
});

/// Changes of one corner.
#[derive(Clone, Debug)]
struct Changes {
    points: Vec<[f64; 3]>,
    centre: [f64; 3],
    toe: Option<f64>,
    camber: Option<f64>,
    length: Option<(usize, f64)>,
}

fn offset() -> impl Strategy<Value = [f64; 3]> {
    prop::array::uniform3(-MOVED..MOVED)
}

fn changes() -> impl Strategy<Value = Changes> {
    (
        prop::collection::vec(offset(), Hardpoint::COUNT),
        offset(),
        prop::option::of(-0.01..0.01),
        prop::option::of(-0.06..0.01),
        prop::option::of((0..Link::COUNT, -0.002..0.002)),
    )
        .prop_map(|(points, centre, toe, camber, length)| Changes {
            points,
            centre,
            toe,
            camber,
            length,
        })
}

impl Changes {
    fn apply(&self, corner: &mut Corner, steered: bool) {
        let old: Vec<(Hardpoint, Vector3<f64>)> = corner.hardpoints.iter().collect();
        for (hardpoint, at) in old {
            corner.hardpoints.set(hardpoint, at + Vector3::from(self.points[hardpoint.index()]));
        }
        corner.wheel.centre += Vector3::from(self.centre);
        corner.alignment = Alignment {
            toe: self.toe.map_or(ToeBy::Points, ToeBy::TieRodLength),
            camber: self.camber.map_or(CamberBy::Points, CamberBy::Adjuster),
        };
        corner.lengths.clear();
        if let Some((index, change)) = self.length {
            let link = Link::ALL[index];
            // A stated length of the link that sets toe is the first guess of its adjustment.
            let own = link != if steered { Link::ToeLink } else { Link::TieRod };
            let (inner, outer) = link.ends();
            if let (true, Some(a), Some(b)) =
                (own, corner.hardpoints.get(inner), corner.hardpoints.get(outer))
            {
                corner.lengths.push((link, (a - b).norm() + change));
            }
        }
    }
}

/// A car whose left and right corners are changed alike or each in its own way.
pub fn car() -> impl Strategy<Value = Car> {
    (0..2_usize, any::<bool>(), prop::collection::vec(changes(), 4)).prop_map(|(which, alike, changes)| {
        let mut car = SOUND[which].clone();
        for (end, pair) in End::BOTH.into_iter().zip(changes.chunks(2)) {
            let axle = car.axle_mut(end);
            let steered = axle.steering.rack().is_some();
            pair[0].apply(&mut axle.left, steered);
            let mut right = axle.right.mirrored();
            pair[usize::from(!alike)].apply(&mut right, steered);
            axle.right = right.mirrored();
        }
        car
    })
}

/// The front or the rear axle.
pub fn end() -> impl Strategy<Value = End> {
    prop_oneof![Just(End::Front), Just(End::Rear)]
}

/// One side.
pub fn side() -> impl Strategy<Value = Side> {
    prop_oneof![Just(Side::Left), Just(Side::Right)]
}

/// Travel of both wheels and of the rack, metres.
pub fn pose() -> impl Strategy<Value = ([f64; 2], f64)> {
    (prop::array::uniform2(-0.04..0.04), -0.025..0.025)
}
