//! The named points of a corner, and the named links between them.
macro_rules! named {
    ($(#[$meta:meta])* $name:ident { $($(#[$doc:meta])* $variant:ident = $key:literal, $label:literal;)* }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name { $($(#[$doc])* $variant,)* }

        impl $name {
            /// All of them, in the order of the car file.
            pub const ALL: &'static [$name] = &[$($name::$variant,)*];
            /// How many there are.
            pub const COUNT: usize = Self::ALL.len();

            /// The name in files and data.
            #[must_use]
            pub fn key(self) -> &'static str {
                match self { $($name::$variant => $key,)* }
            }

            /// The name in words.
            #[must_use]
            pub fn label(self) -> &'static str {
                match self { $($name::$variant => $label,)* }
            }

            /// The one with this [`key`](Self::key).
            #[must_use]
            pub fn from_key(key: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|one| one.key() == key)
            }

            /// Its place in [`ALL`](Self::ALL).
            #[must_use]
            pub fn index(self) -> usize {
                self as usize
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.label())
            }
        }
    };
}
pub(crate) use named;

named! {
    /// A named point of a corner in the design pose.
    Hardpoint {
        /// Front inner pickup of the upper wishbone, on the body.
        UpperWishboneFront = "upper_wishbone_front", "upper wishbone, front pickup";
        /// Rear inner pickup of the upper wishbone, on the body.
        UpperWishboneRear = "upper_wishbone_rear", "upper wishbone, rear pickup";
        /// Upper ball joint, on the upright.
        UpperBallJoint = "upper_ball_joint", "upper ball joint";
        /// Front inner pickup of the lower wishbone, on the body.
        LowerWishboneFront = "lower_wishbone_front", "lower wishbone, front pickup";
        /// Rear inner pickup of the lower wishbone, on the body.
        LowerWishboneRear = "lower_wishbone_rear", "lower wishbone, rear pickup";
        /// Lower ball joint, on the upright.
        LowerBallJoint = "lower_ball_joint", "lower ball joint";
        /// Top mount of a strut, on the body.
        StrutTop = "strut_top", "strut, top mount";
        /// Second point of a strut's line, fixed to the upright.
        StrutBottom = "strut_bottom", "strut, lower point";
        /// Inner end of the upper front link of five.
        UpperFrontLinkInner = "upper_front_link_inner", "upper front link, inner end";
        /// Outer end of the upper front link of five.
        UpperFrontLinkOuter = "upper_front_link_outer", "upper front link, outer end";
        /// Inner end of the upper rear link of five.
        UpperRearLinkInner = "upper_rear_link_inner", "upper rear link, inner end";
        /// Outer end of the upper rear link of five.
        UpperRearLinkOuter = "upper_rear_link_outer", "upper rear link, outer end";
        /// Inner end of the lower front link of five.
        LowerFrontLinkInner = "lower_front_link_inner", "lower front link, inner end";
        /// Outer end of the lower front link of five.
        LowerFrontLinkOuter = "lower_front_link_outer", "lower front link, outer end";
        /// Inner end of the lower rear link of five.
        LowerRearLinkInner = "lower_rear_link_inner", "lower rear link, inner end";
        /// Outer end of the lower rear link of five.
        LowerRearLinkOuter = "lower_rear_link_outer", "lower rear link, outer end";
        /// Outboard point of a trailing arm's hinge line, on the body.
        ArmPivotOutboard = "arm_pivot_outboard", "trailing arm, outboard pivot";
        /// Inboard point of a trailing arm's hinge line, on the body.
        ArmPivotInboard = "arm_pivot_inboard", "trailing arm, inboard pivot";
        /// Front inner pickup of an H-arm, on the body.
        HArmInnerFront = "h_arm_inner_front", "H-arm, front inner pickup";
        /// Rear inner pickup of an H-arm, on the body.
        HArmInnerRear = "h_arm_inner_rear", "H-arm, rear inner pickup";
        /// Front outer joint of an H-arm, on the upright.
        HArmOuterFront = "h_arm_outer_front", "H-arm, front outer joint";
        /// Rear outer joint of an H-arm, on the upright.
        HArmOuterRear = "h_arm_outer_rear", "H-arm, rear outer joint";
        /// Inner end of the upper link, on the body.
        UpperLinkInner = "upper_link_inner", "upper link, inner end";
        /// Outer end of the upper link, on the upright or the axle.
        UpperLinkOuter = "upper_link_outer", "upper link, outer end";
        /// Inner end of the lower link, on the body.
        LowerLinkInner = "lower_link_inner", "lower link, inner end";
        /// Outer end of the lower link, on the axle.
        LowerLinkOuter = "lower_link_outer", "lower link, outer end";
        /// Upper point of the line about which a knuckle turns on its axle.
        KingPinUpper = "king_pin_upper", "king pin, upper point";
        /// Lower point of the line about which a knuckle turns on its axle.
        KingPinLower = "king_pin_lower", "king pin, lower point";
        /// Inner end of an axle's single upper link, on the body.
        TopLinkInner = "top_link_inner", "top link, inner end";
        /// Outer end of an axle's single upper link, on the axle.
        TopLinkOuter = "top_link_outer", "top link, outer end";
        /// Panhard rod's end on the body.
        PanhardRodBody = "panhard_rod_body", "Panhard rod, body end";
        /// Panhard rod's end on the axle.
        PanhardRodAxle = "panhard_rod_axle", "Panhard rod, axle end";
        /// Body end of the drop link at the front of a torque arm.
        TorqueArmLinkBody = "torque_arm_link_body", "torque arm link, body end";
        /// Lower end of the drop link, on the torque arm (which is part of the axle).
        TorqueArmLinkAxle = "torque_arm_link_axle", "torque arm link, arm end";
        /// A point on the axis of a Watt's linkage lever.
        WattPivot = "watt_pivot", "Watt lever pivot";
        /// A second point on the axis of a Watt's linkage lever.
        WattAxis = "watt_axis", "Watt lever axis, second point";
        /// The lever's end that carries the rod to the left.
        WattLeverLeft = "watt_lever_left", "Watt lever, left rod's end";
        /// The lever's end that carries the rod to the right.
        WattLeverRight = "watt_lever_right", "Watt lever, right rod's end";
        /// Far end of the rod to the left.
        WattRodLeft = "watt_rod_left", "Watt left rod, far end";
        /// Far end of the rod to the right.
        WattRodRight = "watt_rod_right", "Watt right rod, far end";
        /// Inner end of a drag link, on the rack, centre link or pitman arm.
        DragLinkInner = "drag_link_inner", "drag link, inner end";
        /// Outer end of a drag link that steers the left knuckle, on its steering arm.
        DragLinkLeft = "drag_link_left", "drag link, end on the left steering arm";
        /// Outer end of a drag link that steers the right knuckle, on its steering arm.
        DragLinkRight = "drag_link_right", "drag link, end on the right steering arm";
        /// The track rod's end on the left knuckle's steering arm.
        TrackRodLeft = "track_rod_left", "track rod, left end";
        /// The track rod's end on the right knuckle's steering arm.
        TrackRodRight = "track_rod_right", "track rod, right end";
        /// Inner end of the tie rod on the rack or centre link.
        TieRodInner = "tie_rod_inner", "tie rod, inner end";
        /// Outer end of the tie rod on the steering arm.
        TieRodOuter = "tie_rod_outer", "tie rod, outer end";
        /// Inner end of the toe link on the body.
        ToeLinkInner = "toe_link_inner", "toe link, inner end";
        /// Outer end of the toe link on the upright.
        ToeLinkOuter = "toe_link_outer", "toe link, outer end";
        /// Outer end of the pushrod.
        PushrodOuter = "pushrod_outer", "pushrod, outer end";
        /// Inner end of the pushrod, on the rocker.
        PushrodInner = "pushrod_inner", "pushrod, rocker end";
        /// A point on the rocker's axis.
        RockerPivot = "rocker_pivot", "rocker pivot";
        /// A second point on the rocker's axis.
        RockerAxis = "rocker_axis", "rocker axis, second point";
        /// Damper eye on the rocker, or on the link that carries the damper.
        DamperRocker = "damper_rocker", "damper, moving eye";
        /// Damper eye on the body.
        DamperBody = "damper_body", "damper, body eye";
        /// Moving eye of a spring that stands apart from the damper.
        SpringMoving = "spring_moving", "spring, moving eye";
        /// Body eye of a spring that stands apart from the damper.
        SpringBody = "spring_body", "spring, body eye";
        /// This side's end of a third spring across the axle.
        ThirdSpringEnd = "third_spring_end", "third spring, end";
        /// Outer end of the anti-roll bar's drop link.
        DropLinkOuter = "drop_link_outer", "drop link, outer end";
        /// End of the drop link on the anti-roll bar's arm.
        DropLinkBar = "drop_link_bar", "drop link, bar end";
        /// The point on the anti-roll bar's axis where its arm starts.
        BarPivot = "bar_pivot", "anti-roll bar pivot";
        /// A second point on the anti-roll bar's axis.
        BarAxis = "bar_axis", "anti-roll bar axis, second point";
        /// A point on the line about which a T-bar's stem swings.
        TBarPivot = "t_bar_pivot", "T-bar pivot";
        /// A second point on the line about which a T-bar's stem swings.
        TBarAxis = "t_bar_axis", "T-bar swing axis, second point";
        /// Where a T-bar's stem meets its crossbar.
        TBarHead = "t_bar_head", "T-bar head";
    }
}

named! {
    /// A link of fixed length between two named points.
    Link {
        /// Front leg of the upper wishbone.
        UpperFrontLeg = "upper_front_leg", "upper wishbone, front leg";
        /// Rear leg of the upper wishbone.
        UpperRearLeg = "upper_rear_leg", "upper wishbone, rear leg";
        /// Front leg of the lower wishbone.
        LowerFrontLeg = "lower_front_leg", "lower wishbone, front leg";
        /// Rear leg of the lower wishbone.
        LowerRearLeg = "lower_rear_leg", "lower wishbone, rear leg";
        /// Upper front link of five.
        UpperFrontLink = "upper_front_link", "upper front link";
        /// Upper rear link of five.
        UpperRearLink = "upper_rear_link", "upper rear link";
        /// Lower front link of five.
        LowerFrontLink = "lower_front_link", "lower front link";
        /// Lower rear link of five.
        LowerRearLink = "lower_rear_link", "lower rear link";
        /// Upper link to an upright or an axle.
        UpperLink = "upper_link", "upper link";
        /// Lower link to an axle.
        LowerLink = "lower_link", "lower link";
        /// Single upper link of an axle.
        TopLink = "top_link", "top link";
        /// Panhard rod.
        PanhardRod = "panhard_rod", "Panhard rod";
        /// Drop link at the front of a torque arm.
        TorqueArmLink = "torque_arm_link", "torque arm link";
        /// Rod of a Watt's linkage to the left.
        WattRodToLeft = "watt_rod_to_left", "Watt linkage, left rod";
        /// Rod of a Watt's linkage to the right.
        WattRodToRight = "watt_rod_to_right", "Watt linkage, right rod";
        /// Drag link from rack, centre link or pitman arm to the left knuckle.
        DragLinkToLeft = "drag_link_to_left", "drag link to the left knuckle";
        /// Drag link from rack, centre link or pitman arm to the right knuckle.
        DragLinkToRight = "drag_link_to_right", "drag link to the right knuckle";
        /// Track rod between both knuckles of an axle.
        TrackRod = "track_rod", "track rod";
        /// Tie rod from rack to steering arm.
        TieRod = "tie_rod", "tie rod";
        /// Toe link from body to upright.
        ToeLink = "toe_link", "toe link";
        /// Pushrod from suspension to rocker.
        Pushrod = "pushrod", "pushrod";
        /// Drop link to the anti-roll bar's arm.
        DropLink = "drop_link", "drop link";
    }
}

impl Hardpoint {
    /// Whether the point belongs to an axle as a whole, not to one of its corners.
    #[must_use]
    pub fn is_of_axle(self) -> bool {
        use Hardpoint as P;
        matches!(
            self,
            P::TopLinkInner
                | P::TopLinkOuter
                | P::PanhardRodBody
                | P::PanhardRodAxle
                | P::TorqueArmLinkBody
                | P::TorqueArmLinkAxle
                | P::WattPivot
                | P::WattAxis
                | P::WattLeverLeft
                | P::WattLeverRight
                | P::WattRodLeft
                | P::WattRodRight
                | P::DragLinkInner
                | P::DragLinkLeft
                | P::DragLinkRight
                | P::TrackRodLeft
                | P::TrackRodRight
                | P::TBarPivot
                | P::TBarAxis
                | P::TBarHead
        )
    }
}

impl Link {
    /// Whether the link belongs to an axle as a whole, not to one of its corners.
    #[must_use]
    pub fn is_of_axle(self) -> bool {
        self.ends().0.is_of_axle()
    }

    /// The two points the link joins: inner (body side) first.
    #[must_use]
    pub fn ends(self) -> (Hardpoint, Hardpoint) {
        use Hardpoint as P;
        match self {
            Link::UpperFrontLeg => (P::UpperWishboneFront, P::UpperBallJoint),
            Link::UpperRearLeg => (P::UpperWishboneRear, P::UpperBallJoint),
            Link::LowerFrontLeg => (P::LowerWishboneFront, P::LowerBallJoint),
            Link::LowerRearLeg => (P::LowerWishboneRear, P::LowerBallJoint),
            Link::UpperFrontLink => (P::UpperFrontLinkInner, P::UpperFrontLinkOuter),
            Link::UpperRearLink => (P::UpperRearLinkInner, P::UpperRearLinkOuter),
            Link::LowerFrontLink => (P::LowerFrontLinkInner, P::LowerFrontLinkOuter),
            Link::LowerRearLink => (P::LowerRearLinkInner, P::LowerRearLinkOuter),
            Link::UpperLink => (P::UpperLinkInner, P::UpperLinkOuter),
            Link::LowerLink => (P::LowerLinkInner, P::LowerLinkOuter),
            Link::TopLink => (P::TopLinkInner, P::TopLinkOuter),
            Link::PanhardRod => (P::PanhardRodBody, P::PanhardRodAxle),
            Link::TorqueArmLink => (P::TorqueArmLinkBody, P::TorqueArmLinkAxle),
            Link::WattRodToLeft => (P::WattLeverLeft, P::WattRodLeft),
            Link::WattRodToRight => (P::WattLeverRight, P::WattRodRight),
            Link::DragLinkToLeft => (P::DragLinkInner, P::DragLinkLeft),
            Link::DragLinkToRight => (P::DragLinkInner, P::DragLinkRight),
            Link::TrackRod => (P::TrackRodLeft, P::TrackRodRight),
            Link::TieRod => (P::TieRodInner, P::TieRodOuter),
            Link::ToeLink => (P::ToeLinkInner, P::ToeLinkOuter),
            Link::Pushrod => (P::PushrodInner, P::PushrodOuter),
            Link::DropLink => (P::DropLinkBar, P::DropLinkOuter),
        }
    }
}
