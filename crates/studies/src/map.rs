//! What a reading would do over wheel travel if one point stood elsewhere in a plane: a contour map.

use crate::side_by_side::on_each;
use nalgebra::Vector3;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use wheelpath_geometry::{
    Car, CornerSolver, Hardpoint, OnGround, Reading, Scope, SweepHistory, WheelPosition, spaced, wheel_values,
};

/// A part of a plane: `centre + across·u + up·v`, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    /// Its middle.
    pub centre: Vector3<f64>,
    /// Unit direction of the columns' numbers.
    pub u: Vector3<f64>,
    /// Unit direction of the rows' numbers.
    pub v: Vector3<f64>,
    /// Half its width and height, metres.
    pub half: [f64; 2],
}

/// A map that is asked for.
#[derive(Clone, Debug)]
pub struct MapOf<'a> {
    /// The car.
    pub car: &'a Car,
    /// The corner.
    pub wheel: WheelPosition,
    /// The point that is moved; links are cut to the new distance between their ends.
    pub hardpoint: Hardpoint,
    /// Where it is moved to.
    pub patch: Patch,
    /// How many columns and rows.
    pub count: [usize; 2],
    /// A reading of the wheel, on a ground level with the body.
    pub reading: &'static Reading,
    /// First and last wheel travel, metres, straight ahead.
    pub travel: [f64; 2],
    /// How many travels.
    pub poses: usize,
}

/// One place of a map, SI units and radians; not-a-number where the linkage does not reach every travel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Value in the design pose.
    pub design: f64,
    /// Least value over the travel less that in the design pose.
    pub least: f64,
    /// Greatest value over the travel less that in the design pose.
    pub most: f64,
    /// Mean slope over the travel: signed, so that it has a zero line.
    pub slope: f64,
}

impl Cell {
    /// A place that cannot be.
    pub const NONE: Cell = Cell { design: f64::NAN, least: f64::NAN, most: f64::NAN, slope: f64::NAN };
}

impl MapOf<'_> {
    /// The numbers of the columns and rows, metres from the centre of the patch.
    #[must_use]
    pub fn lines(&self) -> [Vec<f64>; 2] {
        [0, 1].map(|i: usize| spaced(-self.patch.half[i], self.patch.half[i], self.count[i].max(1)))
    }

    /// The place of the point in a column and row.
    #[must_use]
    pub fn place(&self, across: f64, up: f64) -> Vector3<f64> {
        self.patch.centre + self.patch.u * across + self.patch.v * up
    }

    /// Computes rows on up to `threads` threads and hands each over as it is done, until `enough` is true.
    /// Nothing comes of a beam axle, of a corner without the point, or of a reading of an axle.
    pub fn rows(&self, threads: usize, enough: &AtomicBool, each: impl Fn(usize, &[Cell]) + Sync) {
        let axle = self.car.axle(self.wheel.end);
        let has = axle.corner(self.wheel.side).hardpoints.get(self.hardpoint).is_some();
        if axle.is_beam() || !has || self.reading.scope != Scope::Wheel {
            return;
        }
        let [columns, rows] = self.lines();
        let travels = spaced(self.travel[0], self.travel[1], self.poses.max(2));
        let next = AtomicUsize::new(0);
        let take = || {
            let mut cells = vec![Cell::NONE; columns.len()];
            let mut trail = SweepHistory::new();
            while !enough.load(Ordering::Relaxed) {
                let row = next.fetch_add(1, Ordering::Relaxed);
                let Some(&up) = rows.get(row) else { return };
                trail.forget();
                for (cell, &across) in cells.iter_mut().zip(&columns) {
                    *cell = self.cell(&self.place(across, up), &travels, &mut trail).unwrap_or_else(|| {
                        trail.forget();
                        Cell::NONE
                    });
                }
                each(row, &cells);
            }
        };
        on_each(threads, take);
    }

    fn cell(&self, place: &Vector3<f64>, travels: &[f64], trail: &mut SweepHistory) -> Option<Cell> {
        let axle = self.car.axle(self.wheel.end);
        let mut corner = axle.corner(self.wheel.side).clone();
        corner.hardpoints.set(self.hardpoint, *place);
        let third = axle.third_spring.map(|spring| spring.on);
        let solver = CornerSolver::new(&corner, self.wheel.side, &axle.steering, third).ok()?;
        let at_design = &solver.start().motion;
        let design = wheel_values(at_design, &OnGround::of(at_design, Vector3::z())).0[self.reading.index];
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        let (mut first, mut last) = (f64::NAN, f64::NAN);
        let swept = solver.sweep_reading_on(trail, self.reading, travels, 0.0, |start, values| {
            for (i, value) in values.iter().enumerate() {
                least = if *value < least { *value } else { least };
                most = if *value > most { *value } else { most };
                if start + i == 0 {
                    first = *value;
                }
                last = *value;
            }
        });
        swept.ok()?;
        let over = travels.last()? - travels.first()?;
        let cell = Cell { design, least: least - design, most: most - design, slope: (last - first) / over };
        cell.slope.is_finite().then_some(cell)
    }
}
