//! Which solids an axle has, and which of them can meet.

use super::annulus::Annulus;
use super::capsule::{Capsule, Gap};
use super::name::{PartName, Solid, is_among};
use nalgebra::Vector3;
use wheelpath_geometry::{Axle, AxleSolver, End, Hardpoints, Pairs, Part, Piece, Side, SolvedAxle, Wheel};

/// The solids of one axle and the pairs that are looked at.
pub(super) struct Layout<'a> {
    pub axle: &'a Axle,
    pub end: End,
    pieces: Vec<(Piece, f64)>,
    /// Places in the pieces.
    rods: Vec<[usize; 2]>,
    /// A ring, by its place in [`Layout::rings`], and a piece.
    wheels: Vec<[usize; 2]>,
    rings: Vec<(Side, Solid)>,
    /// Pairs left out because they are joined.
    pub joined: Vec<[PartName; 2]>,
}

/// Where all points of an axle stand: left, right, the axle's own.
struct Places([Hardpoints; 3]);

impl Layout<'_> {
    pub fn of(axle: &Axle, end: End) -> Layout<'_> {
        let radius = |piece: &Piece| {
            axle.given_radius(piece.side, piece.part).unwrap_or_else(|| piece.part.usual_radius())
        };
        let pieces: Vec<_> = axle.pieces().into_iter().map(|piece| (piece, radius(&piece))).collect();
        let mut rings = Vec::new();
        for side in Side::BOTH {
            rings.push((side, Solid::Tyre));
            let wheel = &axle.corner(side).wheel;
            // The tyre's bore says the same of a rim of which nothing else is known.
            if wheel.rim_width.is_some() || wheel.rim_inner_radius.is_some() {
                rings.push((side, Solid::Rim));
            }
        }
        let mut layout =
            Layout { axle, end, pieces, rods: Vec::new(), wheels: Vec::new(), rings, joined: Vec::new() };
        for (i, (a, _)) in layout.pieces.iter().enumerate() {
            for (j, (b, _)) in layout.pieces.iter().enumerate().skip(i + 1) {
                if axle.are_joined(a, b) {
                    layout.joined.push([name_of(end, a), name_of(end, b)]);
                } else {
                    layout.rods.push([i, j]);
                }
            }
            for (ring, (side, _)) in layout.rings.iter().enumerate() {
                // The other side's wheel is out of reach.
                if a.side.is_none_or(|own| own == *side) {
                    layout.wheels.push([ring, i]);
                }
            }
        }
        layout
    }

    /// Without the pairs that are not among these.
    pub fn only(mut self, pairs: Pairs) -> Self {
        let names = |layout: &Self, pair| is_among(&layout.names(pair), pairs);
        let rods = self.rods.len();
        let keep: Vec<bool> = (0..self.pairs()).map(|pair| names(&self, pair)).collect();
        let mut kept = keep.iter();
        self.rods.retain(|_| kept.next() == Some(&true));
        let mut kept = keep.iter().skip(rods);
        self.wheels.retain(|_| kept.next() == Some(&true));
        self
    }

    /// Without any pair.
    pub fn without_pairs(mut self) -> Self {
        self.rods.clear();
        self.wheels.clear();
        self
    }

    /// How many pairs are looked at.
    pub fn pairs(&self) -> usize {
        self.rods.len() + self.wheels.len()
    }

    /// What a pair is called: the ring first.
    pub fn names(&self, pair: usize) -> [PartName; 2] {
        let piece = |place: usize| name_of(self.end, &self.pieces[place].0);
        match pair.checked_sub(self.rods.len()) {
            None => self.rods[pair].map(piece),
            Some(rest) => {
                let [ring, place] = self.wheels[rest];
                let (side, what) = self.rings[ring];
                [PartName { end: self.end, side: Some(side), what }, piece(place)]
            }
        }
    }

    /// Parts whose radius is not given, each once, and what it counts as, metres.
    pub fn assumed(&self) -> Vec<(Option<Side>, Part, f64)> {
        let mut assumed: Vec<(Option<Side>, Part, f64)> = Vec::new();
        for (piece, radius) in &self.pieces {
            let known = assumed.iter().any(|&(side, part, _)| (side, part) == (piece.side, piece.part));
            if self.axle.given_radius(piece.side, piece.part).is_none() && !known {
                assumed.push((piece.side, piece.part, *radius));
            }
        }
        assumed
    }

    /// The solids at a pose.
    pub fn solids(&self, solver: &AxleSolver, at: &SolvedAxle) -> Solids {
        let points = |side| solver.points(at, side).into_iter().collect::<Hardpoints>();
        let own = solver.own_points(at).into_iter().collect();
        let places = Places([points(Side::Left), points(Side::Right), own]);
        let capsule = |&(piece, radius): &(Piece, f64)| {
            let ends = piece.ends.map(|end| places.at(end.side, end.hardpoint));
            Capsule { ends, radius }
        };
        let ring = |&(side, what): &(Side, Solid)| {
            let motion = at.motion.corner(side);
            ring(&self.axle.corner(side).wheel, what, motion.wheel_centre, motion.spin_axis)
        };
        Solids {
            capsules: self.pieces.iter().map(capsule).collect(),
            rings: self.rings.iter().map(ring).collect(),
        }
    }

    /// Distance of a pair.
    pub fn gap(&self, solids: &Solids, pair: usize) -> Gap {
        match pair.checked_sub(self.rods.len()) {
            None => {
                let [a, b] = self.rods[pair];
                solids.capsules[a].gap(&solids.capsules[b])
            }
            Some(rest) => {
                let [ring, piece] = self.wheels[rest];
                solids.rings[ring].gap(&solids.capsules[piece])
            }
        }
    }
}

fn name_of(end: End, piece: &Piece) -> PartName {
    PartName { end, side: piece.side, what: Solid::Piece { part: piece.part, leg: piece.leg } }
}

/// All solids of an axle at one pose, in the order of the layout.
pub(super) struct Solids {
    capsules: Vec<Capsule>,
    rings: Vec<Annulus>,
}

impl Places {
    /// A point; the origin where there is none, which the layout sees to.
    fn at(&self, side: Option<Side>, hardpoint: wheelpath_geometry::Hardpoint) -> Vector3<f64> {
        let [left, right, own] = &self.0;
        let points = match side {
            Some(Side::Left) => left,
            Some(Side::Right) => right,
            None => own,
        };
        points.get(hardpoint).unwrap_or_default()
    }
}

fn ring(wheel: &Wheel, what: Solid, centre: Vector3<f64>, axis: Vector3<f64>) -> Annulus {
    if what == Solid::Rim {
        let width = wheel.rim_width.unwrap_or(wheel.tyre_width);
        let inner = wheel.rim_inner_radius.unwrap_or(wheel.rim_radius);
        return Annulus {
            centre,
            axis,
            inner,
            outer: wheel.rim_radius,
            half_width: 0.5 * width,
            shoulder: 0.0,
        };
    }
    Annulus {
        centre,
        axis,
        inner: wheel.rim_radius,
        outer: wheel.tyre_radius,
        half_width: 0.5 * wheel.tyre_width,
        shoulder: wheel.tyre_shoulder_radius,
    }
}
