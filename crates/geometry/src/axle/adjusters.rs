//! A car's adjusters, fixed where they stand or free to bring its alignment back: what a change with the links kept
//! starts from.

use crate::axle::axle_solver::{AxleSolver, place};
use crate::axle::car_solver::CarSolver;
use crate::axle::wheel_carrier::Carried;
use crate::car::hardpoint::Link;
use crate::car::position::{Side, WheelPosition};
use crate::car::{Alignment, Car, ToeBy};
use crate::change::assembly::Assembly;
use crate::corner::align::Adjusted;
use crate::corner::align::toe_and_camber;
use crate::linkage::links::Links;
use crate::linkage::spec::CamberMoves;
use nalgebra::Vector3;

impl AxleSolver {
    /// Where the adjusters of that side came to stand.
    #[must_use]
    pub fn adjusted(&self, side: Side) -> Adjusted {
        match &self.carried {
            Carried::Independent(corners) => corners[place(side)].adjusted(),
            Carried::Beam(beam) => {
                let link = beam.toe_links().map(|links| links[place(side)]);
                let change = beam.adjusted().iter().find(|(one, _)| Some(*one) == link);
                Adjusted { toe_link_change: change.map_or(0.0, |(_, by)| *by), camber_adjuster: 0.0 }
            }
        }
    }

    /// The link whose length sets the toe of that wheel, and whose it is: a tie rod or toe link of its corner, or the
    /// drag link or track rod of an axle. `None` where none does.
    #[must_use]
    pub fn toe_link(&self, side: Side) -> Option<(Assembly, Link)> {
        let end = self.context.end;
        match &self.carried {
            Carried::Independent(corners) => {
                Some((Assembly::Corner(WheelPosition { end, side }), corners[place(side)].toe_link()?))
            }
            Carried::Beam(beam) => Some((Assembly::Axle(end), beam.toe_links()?[place(side)])),
        }
    }
}

impl Car {
    /// The same car with every adjuster fixed where `solver`, made of this car, has it: a change with the links kept
    /// leaves it **as built**, nothing reset.
    #[must_use]
    pub fn as_built(&self, solver: &CarSolver) -> Car {
        let mut car = self.clone();
        for wheel in WheelPosition::ALL {
            let axle = solver.axle(wheel.end);
            let adjusted = axle.adjusted(wheel.side);
            car.corner_mut(wheel).alignment = Alignment::FROM_POINTS;
            if let Some((assembly, link)) = axle.toe_link(wheel.side) {
                assembly.lengthen(&mut car, link, adjusted.toe_link_change);
            }
            Assembly::from(wheel).fix_camber_adjuster(&mut car, wheel, adjusted.camber_adjuster);
        }
        car
    }

    /// The same car with tie rods and toe links, or drag link and track rod, free to bring static toe back to what `solver`, made of this car, has,
    /// and the camber adjusters that the car states to bring camber back: a change with the links kept leaves it
    /// **realigned**.
    #[must_use]
    pub fn realigned(&self, solver: &CarSolver) -> Car {
        let mut car = self.clone();
        for wheel in WheelPosition::ALL {
            let axle = solver.axle(wheel.end);
            let alignment = &mut car.corner_mut(wheel).alignment;
            if axle.toe_link(wheel.side).is_some() && alignment.toe == ToeBy::Points {
                let [toe, _] = toe_and_camber(axle.start().motion.corner(wheel.side));
                alignment.toe = ToeBy::TieRodLength(toe);
            }
        }
        car
    }
}

impl Assembly {
    /// Makes a link longer by so much, metres.
    fn lengthen(self, car: &mut Car, link: Link, by: f64) {
        let stated = self.lengths(car).iter().find(|(one, _)| *one == link).map(|(_, length)| *length);
        if by != 0.0
            && let Some(length) = stated.or_else(|| self.between_ends(car, link))
        {
            self.set_length(car, link, Some(length + by));
        }
    }

    /// Puts the camber adjuster's movement into the points and lengths it moves: see
    /// [`ScalarParameter::CamberAdjuster`](crate::ScalarParameter::CamberAdjuster).
    fn fix_camber_adjuster(self, car: &mut Car, wheel: WheelPosition, by: f64) {
        if by == 0.0 {
            return;
        }
        let corner = car.corner(wheel);
        let spin_axis = corner.wheel.spin_axis;
        let Some(adjuster) = corner.linkage.spec().camber else { return };
        let (hardpoint, step) = match adjuster.moves {
            CamberMoves::JointOnUpright(joint) => (joint, -spin_axis * by),
            CamberMoves::PointOnBody(point) => (point, Vector3::new(0.0, by * wheel.side.sign(), 0.0)),
            CamberMoves::Length(link) => return self.lengthen(car, link, by),
        };
        if let Some(at) = self.point(car, hardpoint) {
            self.move_point(car, hardpoint, at + step, Links::Kept);
        }
    }
}
