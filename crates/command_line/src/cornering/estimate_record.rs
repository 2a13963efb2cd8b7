//! The estimate of a car's roll, for programs.

use crate::console::field::{Among, ByAxle, Words};
use crate::console::quantity::{
    Kilogram, Length, NewtonMetrePerDegree, NewtonPerDegree, NewtonPerG, NewtonPerMillimetre, Percent,
};
use crate::console::record::record;
use wheelpath_geometry::{AxleEstimate, Car, Estimate, GRAVITY, LEFT_OUT, RollModelInputs};

/// Newton metres per radian in newton metres per degree.
pub(crate) fn per_degree(stiffness: f64) -> f64 {
    stiffness.to_radians()
}

record! {
    /// What the estimate stands on and gives.
    pub(crate) struct EstimateRecord {
        /// Mass of the car.
        mass: Kilogram,
        /// Share of the weight on the front wheels.
        weight_share_front: Percent,
        /// Share of the weight on the left wheels.
        weight_share_left: Option<Percent>,
        /// Share of the weight on the right front and the left rear wheel together.
        cross_weight: Option<Percent>,
        /// Height of the centre of gravity over the road.
        centre_of_gravity_height: Length,
        /// Distance between the axles.
        wheelbase: Length,
        /// Height of the axis through both roll centres, below the centre of gravity.
        roll_axis_height: Length,
        /// Height of the centre of gravity over that axis.
        roll_lever: Length,
        /// Roll stiffness of springs and bars.
        roll_stiffness: NewtonMetrePerDegree,
        axles: Among<ByAxle<AxleEstimateRecord>>,
        /// What the estimate leaves out, in words.
        left_out: Words,
    }
}

record! {
    /// What an axle brings to the estimate, and what it does.
    pub(crate) struct AxleEstimateRecord {
        roll_centre_height: Length,
        track: Length,
        /// Rate of the springs, both wheels up together.
        heave_stiffness: NewtonPerMillimetre,
        /// Roll stiffness of the springs.
        roll_stiffness_of_springs: NewtonMetrePerDegree,
        /// Roll stiffness of the anti-roll bar.
        roll_stiffness_of_bar: NewtonMetrePerDegree,
        /// Load that the axle loses as the body's left side rolls up by a degree; 0 where both sides are alike.
        heave_by_roll: NewtonPerDegree,
        /// Roll stiffness of springs and bars.
        roll_stiffness: NewtonMetrePerDegree,
        /// Roll-stiffness distribution: the share of this axle.
        roll_stiffness_share: Percent,
        /// Load from the inner to the outer wheel through the links, per g lateral.
        transfer_by_links: NewtonPerG,
        /// Elastic load transfer per g lateral: the same through springs and bar.
        transfer_by_springs: NewtonPerG,
        /// Load gained by the axle per g longitudinal.
        transfer_longitudinal: NewtonPerG,
        /// Share of that load which the links carry past the springs; null where the axle's share of the force is
        /// not known.
        carried: Option<Percent>,
    }
}

impl EstimateRecord {
    pub fn of(estimate: &Estimate, car: &Car) -> Self {
        let from = &estimate.from;
        let [left, cross] = car.left_and_cross_share().map_or([None; 2], |shares| shares.map(Some));
        let [front, rear] = &from.axles;
        let [of_front, of_rear] = &estimate.axles;
        EstimateRecord {
            mass: Kilogram(from.mass),
            weight_share_front: Percent(from.weight_share_front),
            weight_share_left: left.map(Percent),
            cross_weight: cross.map(Percent),
            centre_of_gravity_height: Length(from.centre_of_gravity_height),
            wheelbase: Length(from.wheelbase),
            roll_axis_height: Length(estimate.roll_axis_height),
            roll_lever: Length(estimate.roll_lever),
            roll_stiffness: NewtonMetrePerDegree(per_degree(estimate.roll_stiffness)),
            axles: Among(ByAxle([
                AxleEstimateRecord::of(front, of_front),
                AxleEstimateRecord::of(rear, of_rear),
            ])),
            left_out: Words::of(LEFT_OUT),
        }
    }
}

impl AxleEstimateRecord {
    pub fn of(from: &RollModelInputs, axle: &AxleEstimate) -> Self {
        let stiffness = &from.stiffness;
        AxleEstimateRecord {
            roll_centre_height: Length(from.roll_centre_height),
            track: Length(stiffness.track),
            heave_stiffness: NewtonPerMillimetre(stiffness.heave / 1e3),
            roll_stiffness_of_springs: NewtonMetrePerDegree(per_degree(stiffness.roll_of_springs)),
            roll_stiffness_of_bar: NewtonMetrePerDegree(per_degree(stiffness.roll_of_bar)),
            heave_by_roll: NewtonPerDegree(per_degree(stiffness.heave_by_roll)),
            roll_stiffness: NewtonMetrePerDegree(per_degree(axle.roll_stiffness)),
            roll_stiffness_share: Percent(axle.roll_stiffness_share),
            transfer_by_links: NewtonPerG(axle.transfer_by_links * GRAVITY),
            transfer_by_springs: NewtonPerG(axle.transfer_by_springs * GRAVITY),
            transfer_longitudinal: NewtonPerG(axle.transfer_longitudinal * GRAVITY),
            carried: axle.carried.map(Percent),
        }
    }
}
