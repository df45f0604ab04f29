//! File shapes of the domain's plain enums.

/// Declares an enum of a file with the variants of a domain enum, and the way between both.
/// A variant that one of them lacks is a compile error.
macro_rules! mirror {
    ($wire:ident of $domain:ident { $($name:ident),+ $(,)? }) => {
        #[derive(Clone, Copy, serde::Serialize, serde::Deserialize)]
        pub(crate) enum $wire { $($name),+ }

        impl From<$domain> for $wire {
            fn from(value: $domain) -> Self {
                match value { $($domain::$name => Self::$name),+ }
            }
        }

        impl From<$wire> for $domain {
            fn from(value: $wire) -> Self {
                match value { $($wire::$name => Self::$name),+ }
            }
        }
    };
}

use crate::domain::exercise::{Counts, Effort, GivesWay, Joint, Muscle, Pattern, Role, Sides};
use crate::domain::gear::{Fits, Fixture};
use crate::domain::program::Policy;
use crate::domain::session::{Boldness, Ended, Experience, SetKind};
use crate::domain::units::Unit;

mirror!(WireKind of SetKind { Ramp, Working, BackOff });
mirror!(WireEnded of Ended { AsAsked, Short, OnPurpose, Interrupted });
mirror!(WirePolicy of Policy { ByOdds, DoubleProgression, TwoForTwo });
mirror!(WireExperience of Experience { Novice, Intermediate, Returning });
mirror!(WireBoldness of Boldness { Bold, Steady, Cautious });
mirror!(WireJoint of Joint {
    Neck, Shoulder, Elbow, Wrist, UpperBack, LowerBack, Hip, Knee, Ankle,
});
mirror!(WireMuscle of Muscle {
    Chest, FrontDeltoid, SideDeltoid, RearDeltoid, Triceps, Biceps, Forearms, Lats, UpperBack,
    Trapezius, SpinalErectors, Abdominals, Obliques, Glutes, Quadriceps, Hamstrings, Adductors,
    Abductors, HipFlexors, Calves,
});
mirror!(WireRole of Role { Compound, Isolation });
mirror!(WirePattern of Pattern {
    Squat, Hinge, Lunge, HipDrive, PushAcross, PushOverhead, PullAcross, PullOverhead,
    ElbowFlexion, ElbowExtension, ShoulderRaise, ShoulderFly, Shrug, Wrist, KneeExtension,
    KneeFlexion, HipSide, CalfRaise, TrunkFlexion, TrunkExtension, TrunkRotation, Carry,
});
mirror!(WireGivesWay of GivesWay { PutDown, Pins });
mirror!(WireSides of Sides { Both, Each, Alternating });
mirror!(WireEffort of Effort { Reps, Hold });
mirror!(WireFixture of Fixture { Bench, InclineBench, Floor, PullUpBar, DipBars, Rack, Step });
mirror!(WireFits of Fits { All, Handles, Bars });
mirror!(WireUnit of Unit { Kg, Lb });

/// How a load counts.
#[derive(Clone, Copy, serde::Serialize, serde::Deserialize)]
#[serde(rename = "counts")]
pub(crate) enum WireCounts {
    PerHand,
    OneDumbbell,
    BarTotal,
    Body { percent: u8 },
    BodyPlus { percent: u8 },
    Band,
}

impl From<Counts> for WireCounts {
    fn from(counts: Counts) -> Self {
        match counts {
            Counts::PerHand => Self::PerHand,
            Counts::OneDumbbell => Self::OneDumbbell,
            Counts::BarTotal => Self::BarTotal,
            Counts::Body { percent } => Self::Body { percent },
            Counts::BodyPlus { percent } => Self::BodyPlus { percent },
            Counts::Band => Self::Band,
        }
    }
}

impl From<WireCounts> for Counts {
    fn from(counts: WireCounts) -> Self {
        match counts {
            WireCounts::PerHand => Self::PerHand,
            WireCounts::OneDumbbell => Self::OneDumbbell,
            WireCounts::BarTotal => Self::BarTotal,
            WireCounts::Body { percent } => Self::Body { percent },
            WireCounts::BodyPlus { percent } => Self::BodyPlus { percent },
            WireCounts::Band => Self::Band,
        }
    }
}
