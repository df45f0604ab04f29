//! The plain enums of a line: the domain's own names, spelt out so that they stay a promise.

use crate::domain::exercise::{Joint, Muscle};
use crate::domain::program::Policy;
use crate::domain::session::{Boldness, Ended, Experience, SetKind};
use serde::{Deserialize, Serialize};

/// Declares an enum of a line with the variants of a domain enum, and the way between both.
/// A variant that one of them lacks is a compile error.
macro_rules! mirror {
    ($wire:ident of $domain:ident { $($name:ident),+ $(,)? }) => {
        #[derive(Clone, Copy, Serialize, Deserialize)]
        pub(super) enum $wire { $($name),+ }

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

mirror!(WireKind of SetKind { Ramp, Working, BackOff });
mirror!(WireEnded of Ended { AsAsked, Short, OnPurpose, Interrupted });
mirror!(WirePolicy of Policy { DoubleProgression, TwoForTwo });
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
