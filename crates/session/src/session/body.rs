//! The body over a flat road: put there, with the wheels brought down to the road, and read back from
//! the travels of the wheels.

use super::notice::{About, Notice};
use super::{Edit, Session};
use wheelpath_geometry::{
    BodyPose, CarPose, Holding, RoadContact, RoadSolver, Standing, Stop, Unit, WheelPosition,
};

/// Travels that leave no tyre further than this off a flat road agree with one, metres: less than the
/// last digit shown.
const FLAT: f64 = 5e-5;

/// The body over a flat road at the wheel travels shown.
#[derive(Clone, Debug, PartialEq)]
pub struct BodyOver {
    /// Heights and roll; where no flat road fits, those over the three tyres the car would rest on.
    pub pose: BodyPose,
    /// Pitch against the design pose, radians, + = nose down.
    pub pitch: f64,
    /// Why these travels are those of no body over a flat road, in words; `None` where they are.
    pub off: Option<String>,
}

/// A body that is held over the road: while it is, the wheels follow it.
#[derive(Clone, Debug)]
pub(super) struct Stood {
    body: BodyPose,
    pitch: f64,
    /// Travels and steering input that came of it.
    pose: CarPose,
    feet: [RoadContact; 4],
}

impl Stood {
    fn of(standing: &Standing) -> Self {
        let Standing { body, pitch, feet, .. } = *standing;
        Stood { body, pitch, pose: standing.solved.pose, feet }
    }
}

impl Session {
    /// The body over a flat road at the travels shown; in words why there is none, where the car cannot
    /// be laid down on its wheels at all.
    ///
    /// # Errors
    /// The reason.
    pub fn body(&self) -> Result<&BodyOver, &str> {
        self.body.as_ref().map_err(String::as_str)
    }

    /// Whether the body is held over the road, so that the wheels follow when it steers or is changed.
    #[must_use]
    pub fn stands(&self) -> bool {
        self.stood_as_shown().is_some()
    }

    /// What puts the body at another pitch (radians, + = nose down) and leaves the height midway between
    /// the axles and the roll; `None` where that is no pose.
    #[must_use]
    pub fn pitched(&self, body: &BodyPose, pitch: f64) -> Option<Edit> {
        let road = RoadSolver::new(&self.solver_car, &self.solver);
        road.body_at(0.5 * (body.front + body.rear), body.roll, pitch).map(Edit::Stand)
    }

    fn stood_as_shown(&self) -> Option<&Stood> {
        self.stood.as_ref().filter(|stood| stood.pose == self.shown().pose)
    }

    /// Stands the car with its body in this pose, as it is steered.
    pub(super) fn stand(&mut self, body: &BodyPose) {
        let road = RoadSolver::new(&self.solver_car, &self.solver);
        let steer = self.held.pose.steer;
        match road.ground_under(body).map(|_| road.stand(body, steer)) {
            Some(Ok(standing)) => self.take(&standing),
            Some(Err(stop)) => self.refuse(
                About::Body,
                format!("the body cannot stand so: {}", stop.in_words(self.units())),
                "the pose was kept; ask for less".into(),
            ),
            None => self.refuse(
                About::Body,
                "no road is under a body that stands so".into(),
                "the pose was kept; ask for ride heights whose difference is less than the wheelbase".into(),
            ),
        }
    }

    /// Steers. A body that is held over the road stays as it stands, and the wheels follow.
    pub(super) fn steer_to(&mut self, steer: f64) {
        match self.stood.as_ref().map(|stood| self.standing(&stood.body, steer)) {
            Some(Ok(standing)) => self.take(&standing),
            _ => {
                self.stood = None;
                self.pose(CarPose { steer, ..self.held.pose });
            }
        }
    }

    /// Brings the wheels of a car that was changed to the road under the body that is held.
    pub(super) fn stand_again(&mut self) {
        let Some(stood) = self.stood.take() else { return };
        if let Ok(standing) = self.standing(&stood.body, self.asked.steer) {
            self.asked = standing.solved.pose;
            self.stood = Some(Stood::of(&standing));
        }
    }

    fn standing(&self, body: &BodyPose, steer: f64) -> Result<Standing, Stop> {
        RoadSolver::new(&self.solver_car, &self.solver).stand(body, steer)
    }

    fn take(&mut self, standing: &Standing) {
        self.stood = Some(Stood::of(standing));
        self.pose(standing.solved.pose);
    }

    /// The body as the travels shown have it.
    pub(super) fn read_body(&self) -> Result<BodyOver, String> {
        if let Some(stood) = self.stood_as_shown() {
            return Ok(BodyOver { pose: stood.body, pitch: stood.pitch, off: None });
        }
        let CarPose { travel, steer } = self.shown().pose;
        let road = RoadSolver::new(&self.solver_car, &self.solver);
        let resting = road.rest(travel, steer);
        // The pose is solved already: what is left to go wrong is three tyres in a line.
        let resting = resting.map_err(|_| "the tyres make no triangle on the road".to_owned())?;
        let worst = WheelPosition::ALL.into_iter().zip(resting.gaps).max_by(|a, b| a.1.total_cmp(&b.1));
        let off = worst.filter(|(_, gap)| *gap > FLAT).map(|(at, gap)| {
            let gap = Unit::Length.write(gap, self.units());
            format!("no flat road touches all four tyres at these travels: {at} stays {gap} off it")
        });
        Ok(BodyOver { pose: resting.body, pitch: resting.pitch, off })
    }
}

/// The wheels that hang free below a body that is held, and what holds them.
pub(super) fn hanging(session: &Session) -> Vec<Notice> {
    let Some(stood) = session.stood_as_shown() else { return Vec::new() };
    let hangs = |(at, foot): (WheelPosition, &RoadContact)| {
        let RoadContact::Hanging { gap, by } = *foot else { return None };
        let gap = Unit::Length.write(gap, session.units());
        let why = match by {
            Holding::Damper => "its damper is fully extended",
            Holding::Linkage => "its links go no further",
        };
        Some(Notice {
            about: About::Travel(at),
            severe: false,
            text: format!("the {at} wheel hangs {gap} above the road: {why}"),
            remedy: "the body stands as asked; lower it, or roll it less, for this tyre to touch".into(),
        })
    };
    WheelPosition::ALL.into_iter().zip(&stood.feet).filter_map(hangs).collect()
}

#[cfg(test)]
mod tests;
