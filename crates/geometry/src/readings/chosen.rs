//! Only those families of readings that somebody asks for.

use super::table::{Reading, Scope};
use super::{
    AXLE_READINGS, AxleValues, FIRST_OF_AXLE, WHEEL_READINGS, WheelValues, absent, axle_family_values,
    family_values,
};
use crate::axle::axle_motion::AxleMotion;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;

/// The families of readings that are asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Chosen {
    wheel: [bool; 9],
    axle: [bool; 6],
    /// How the springs load the wheels, which takes second derivatives.
    pub wheel_load: bool,
}

impl Chosen {
    pub const ALL: Chosen = Chosen { wheel: [true; 9], axle: [true; 6], wheel_load: true };

    /// The families that these readings are of.
    pub fn of(readings: &[&Reading]) -> Self {
        let mut chosen = Chosen { wheel: [false; 9], axle: [false; 6], wheel_load: false };
        for reading in readings {
            chosen.wheel_load |= reading.is_of_wheel_load();
            match reading.scope {
                Scope::Wheel => chosen.wheel[super::family_of(reading.index)] = true,
                Scope::Axle => {
                    let family = FIRST_OF_AXLE.partition_point(|&first| first <= reading.index);
                    chosen.axle[family.saturating_sub(1)] = true;
                }
            }
        }
        chosen
    }

    /// The readings of a wheel on a ground; those of other families are absent.
    pub fn wheel_values(&self, corner: &CornerMotion<f64>, wheel: &OnGround<f64>) -> WheelValues {
        let mut all = [absent(); WHEEL_READINGS];
        let mut put = |i: usize, value| all[i] = value;
        let chosen = |family: usize| self.wheel[family];
        macro_rules! families {
            ($($family:literal)*) => {
                $(if chosen($family) { family_values::<$family, f64>(corner, wheel, &mut put); })*
            };
        }
        families!(0 1 2 3 4 5 6 7 8);
        WheelValues(all)
    }

    /// The readings of an axle; those of other families are absent.
    pub fn axle_values(&self, axle: &AxleMotion<f64>) -> AxleValues {
        let mut all = [absent(); AXLE_READINGS];
        for (family, _) in self.axle.iter().enumerate().filter(|(_, chosen)| **chosen) {
            axle_family_values(family, axle, |i, value| all[i] = value);
        }
        AxleValues(all)
    }
}
