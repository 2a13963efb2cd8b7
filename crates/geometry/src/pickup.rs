//! The named points of a corner, and the named links between them.

use std::fmt;

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

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(self.label())
            }
        }
    };
}

named! {
    /// A named point of a corner in the design pose.
    Pickup {
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
        /// Inner end of the tie rod on the rack.
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
        /// Outer end of the anti-roll bar's drop link.
        DropLinkOuter = "drop_link_outer", "drop link, outer end";
        /// End of the drop link on the anti-roll bar's arm.
        DropLinkBar = "drop_link_bar", "drop link, bar end";
        /// The point on the anti-roll bar's axis where its arm starts.
        BarPivot = "bar_pivot", "anti-roll bar pivot";
        /// A second point on the anti-roll bar's axis.
        BarAxis = "bar_axis", "anti-roll bar axis, second point";
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

impl Link {
    /// The two points the link joins: inner (body side) first.
    #[must_use]
    pub fn ends(self) -> (Pickup, Pickup) {
        use Pickup as P;
        match self {
            Link::UpperFrontLeg => (P::UpperWishboneFront, P::UpperBallJoint),
            Link::UpperRearLeg => (P::UpperWishboneRear, P::UpperBallJoint),
            Link::LowerFrontLeg => (P::LowerWishboneFront, P::LowerBallJoint),
            Link::LowerRearLeg => (P::LowerWishboneRear, P::LowerBallJoint),
            Link::TieRod => (P::TieRodInner, P::TieRodOuter),
            Link::ToeLink => (P::ToeLinkInner, P::ToeLinkOuter),
            Link::Pushrod => (P::PushrodInner, P::PushrodOuter),
            Link::DropLink => (P::DropLinkBar, P::DropLinkOuter),
        }
    }
}
