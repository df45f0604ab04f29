//! The body's parts as the tables name them: muscles, joints, and movement patterns.

/// A muscle or group that sets are counted for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
#[allow(missing_docs, reason = "the names are the plain anatomical terms")]
pub enum Muscle {
    Chest,
    FrontDeltoid,
    SideDeltoid,
    RearDeltoid,
    Triceps,
    Biceps,
    Forearms,
    Lats,
    UpperBack,
    Trapezius,
    SpinalErectors,
    Abdominals,
    Obliques,
    Glutes,
    Quadriceps,
    Hamstrings,
    Adductors,
    Abductors,
    HipFlexors,
    Calves,
}

impl Muscle {
    /// All of them, as the list has them.
    pub const ALL: [Self; 20] = [
        Self::Chest,
        Self::FrontDeltoid,
        Self::SideDeltoid,
        Self::RearDeltoid,
        Self::Triceps,
        Self::Biceps,
        Self::Forearms,
        Self::Lats,
        Self::UpperBack,
        Self::Trapezius,
        Self::SpinalErectors,
        Self::Abdominals,
        Self::Obliques,
        Self::Glutes,
        Self::Quadriceps,
        Self::Hamstrings,
        Self::Adductors,
        Self::Abductors,
        Self::HipFlexors,
        Self::Calves,
    ];
}

impl std::fmt::Display for Muscle {
    /// In plain words: "side deltoid".
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for (k, letter) in format!("{self:?}").chars().enumerate() {
            if k > 0 && letter.is_uppercase() {
                f.write_str(" ")?;
            }
            write!(f, "{}", letter.to_lowercase())?;
        }
        Ok(())
    }
}

/// A joint, or a part of the spine, that an exercise loads.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
#[allow(missing_docs, reason = "the names are the plain anatomical terms")]
pub enum Joint {
    Neck,
    Shoulder,
    Elbow,
    Wrist,
    UpperBack,
    LowerBack,
    Hip,
    Knee,
    Ankle,
}

/// A movement pattern: exercises of one pattern warm each other up and can stand in.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Pattern {
    /// Knees and hips bend together.
    Squat,
    /// The hips fold, the back stays straight.
    Hinge,
    /// One leg ahead of or above the other.
    Lunge,
    /// Hips driven up or back against a load, knees bent.
    HipDrive,
    /// Pressing away from the chest.
    PushAcross,
    /// Pressing overhead.
    PushOverhead,
    /// Pulling toward the trunk.
    PullAcross,
    /// Pulling down, or the body up.
    PullOverhead,
    /// Bending the elbows.
    ElbowFlexion,
    /// Straightening the elbows.
    ElbowExtension,
    /// Arms raised to the side or front.
    ShoulderRaise,
    /// Arms drawn together across the chest, or apart behind it.
    ShoulderFly,
    /// Shoulders lifted.
    Shrug,
    /// Gripping, or moving the wrists.
    Wrist,
    /// Straightening the knees.
    KneeExtension,
    /// Bending the knees.
    KneeFlexion,
    /// Legs moved inward or outward.
    HipSide,
    /// Heels raised.
    CalfRaise,
    /// The trunk bent or kept from arching.
    TrunkFlexion,
    /// The back straightened or kept from folding.
    TrunkExtension,
    /// The trunk turned, or kept from turning or leaning.
    TrunkRotation,
    /// A load carried.
    Carry,
}

impl Pattern {
    /// Whether the legs and hips do the work.
    pub const fn is_lower_body(self) -> bool {
        match self {
            Self::Squat
            | Self::Hinge
            | Self::Lunge
            | Self::HipDrive
            | Self::KneeExtension
            | Self::KneeFlexion
            | Self::HipSide
            | Self::CalfRaise => true,
            Self::PushAcross
            | Self::PushOverhead
            | Self::PullAcross
            | Self::PullOverhead
            | Self::ElbowFlexion
            | Self::ElbowExtension
            | Self::ShoulderRaise
            | Self::ShoulderFly
            | Self::Shrug
            | Self::Wrist
            | Self::TrunkFlexion
            | Self::TrunkExtension
            | Self::TrunkRotation
            | Self::Carry => false,
        }
    }
}
