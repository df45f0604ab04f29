//! Every field of a program's file in one table: what it means, an example, its bounds with their
//! unit. The reader takes its bounds from here, its errors their advice, and `program schema`
//! prints it.

/// One field.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Field {
    /// The kind of thing that has it.
    pub thing: &'static str,
    /// Its name.
    pub name: &'static str,
    /// Whether it must be there.
    pub must: bool,
    /// What to write, with its bounds.
    pub hint: &'static str,
    /// The least and the most, in `unit`.
    pub bounds: Option<(u32, u32)>,
    /// What it means.
    pub means: &'static str,
}

macro_rules! fields {
    ($($thing:ident . $name:ident $must:ident: $example:literal
        $([$unit:literal $low:literal to $high:literal])?, $means:literal;)+) => {
        /// The table, in the order in which it is printed.
        pub const FIELDS: &[Field] = &[$(Field {
            thing: stringify!($thing),
            name: stringify!($name),
            must: fields!(@$must),
            hint: concat!($example $(, " (", $unit, ", ", $low, " to ", $high, ")")?),
            bounds: fields!(@bounds $($low $high)?),
            means: $means,
        }),+];
    };
    (@must) => { true };
    (@may) => { false };
    (@bounds) => { None };
    (@bounds $low:literal $high:literal) => { Some(($low, $high)) };
}

fields! {
    program.format must: "1" ["number" 1 to 1], "the format of the file";
    program.name must: "\"Spring\"" ["characters" 1 to 40], "what the program is called";
    program.note may: "\"Eight weeks at home.\"", "what it is for";
    program.rhythm must: "Rotation(per_week: 3), Weekdays([Monday, Thursday]) or Every(days: 2)",
        "when its days come: in turn, on weekdays, or every so many days";
    program.phases must: "[(name: \"Base\", weeks: 4, days: [...])]",
        "its phases, in order, at least one";
    rhythm.per_week must: "3" ["sessions a week" 1 to 7], "how many sessions make a week";
    rhythm.days must: "2" ["calendar days" 1 to 14], "from one session to the next";
    phase.name must: "\"Base\"" ["characters" 1 to 40],
        "what the phase is called; no other is called the same";
    phase.note may: "\"Learn the movements.\"", "what it is for";
    phase.weeks must: "4" ["weeks" 1 to 52], "how long it lasts";
    phase.easier_weeks may: "[4]" ["weeks of the phase" 1 to 52],
        "which of its weeks are easier ones: lighter, fewer sets, nothing to prove";
    phase.easier_on_stall may: "true",
        "make a week easier too once two lifts missed their least reps twice running";
    phase.days may: "[(name: \"Day 1\", slots: [...])]" ["days" 1 to 14],
        "its days; needed unless it builds on an earlier phase";
    phase.builds_on may: "\"Base\"", "the earlier phase whose days it takes over";
    phase.more_sets may: "1" ["sets" 0 to 19], "added to each slot that it takes over";
    phase.shorter_rests_s may: "15" ["seconds" 0 to 600],
        "taken from both ends of each rest that it takes over";
    phase.change may: "[(day: \"Day 1\", exercise: \"plank\", sets: 3)]",
        "what is different about slots that it takes over";
    phase.add may: "[(name: \"Day 1\", slots: [...])]",
        "slots behind those of a day that it takes over";
    day.name must: "\"Day 1\"" ["characters" 1 to 40],
        "what the day is called; no other of the phase is called the same";
    day.slots must: "[(exercise: \"plank\", sets: 3, ...)]" ["slots" 1 to 20],
        "its exercises, in order";
    slot.exercise must: "\"goblet_squat\"",
        "an id of shared/exercises.ron or of your own config/exercises.ron";
    slot.sets must: "3" ["sets" 1 to 20], "working sets; ramp sets come on top where they are due";
    slot.reps may: "\"8-12\" or \"8\"" ["reps" 1 to 100],
        "of each set, each side where sides take turns; or hold, or total";
    slot.hold may: "\"20-45\" or \"30\"" ["seconds" 1 to 600],
        "of each set, for exercises that are held";
    slot.total may: "30" ["reps" 2 to 300],
        "over all sets together: the rest of it is shared out among the sets that are left";
    slot.rest must: "\"1:00-1:30\"" ["in seconds" 0 to 900],
        "between its sets, minutes:seconds, from the opening to the close of the window";
    slot.spare may: "2" ["reps" 0 to 9], "reps in reserve to aim for";
    slot.tempo may: "\"30X0\"" ["seconds each" 0 to 9],
        "lowering, pause, lifting (X: as fast as possible), pause";
    slot.open_last may: "true", "the last set is as many reps as go well, at least those asked";
    slot.back_off may: "(sets: 2, percent: 85)",
        "lighter sets behind the working sets, which are then the top sets";
    slot.wave may: "[(reps: \"10\"), (reps: \"8\"), (reps: \"6\")]" ["steps" 1 to 12],
        "what differs in week 1, week 2, ... of the phase; then from the first again";
    slot.group may: "1" ["number" 0 to 99],
        "slots of one day with the same group are done in turn, set by set";
    slot.inside may: "\"0:15-0:30\"" ["in seconds" 0 to 900],
        "rest before the next exercise of the group; without it only the own rest counts";
    slot.sides may: "Each or Alternating",
        "one side's set and then the other's, or side by side rep by rep";
    slot.policy may: "ByOdds, DoubleProgression or TwoForTwo",
        "how the next load is found: by its odds (without it, so); reps first, then load; two over";
    slot.note may: "\"pause on the first rep\"" ["characters" 0 to 200],
        "a word to the lifter, shown on the floor";
    change.day must: "\"Day 1\"", "the day that has the slot";
    change.exercise must: "\"plank\"", "the exercise of the slot";
    change.which may: "2" ["slots" 1 to 20], "which of the day's slots of it, where it has several";
    change.with may: "\"side_plank\"", "the exercise that takes its place";
    change.sets may: "4" ["sets" 1 to 20], "as in a slot, and so the others";
    change.reps may: "\"6-8\"" ["reps" 1 to 100], "";
    change.hold may: "\"30-60\"" ["seconds" 1 to 600], "";
    change.total may: "40" ["reps" 2 to 300], "";
    change.rest may: "\"0:45-1:00\"" ["in seconds" 0 to 900], "";
    change.spare may: "1" ["reps" 0 to 9], "";
    change.tempo may: "\"30X0\"" ["seconds each" 0 to 9], "";
    change.open_last may: "true", "";
    change.back_off may: "(sets: 2, percent: 85)", "";
    change.wave may: "[(reps: \"10\"), (reps: \"8\")]" ["steps" 1 to 12], "";
    change.group may: "1" ["number" 0 to 99], "";
    change.inside may: "\"0:15-0:30\"" ["in seconds" 0 to 900], "";
    change.sides may: "Each or Alternating", "";
    change.policy may: "ByOdds, DoubleProgression or TwoForTwo", "";
    change.note may: "\"slowly\"" ["characters" 0 to 200], "";
    back_off.sets must: "2" ["sets" 1 to 10], "how many";
    back_off.percent must: "85" ["percent" 40 to 99], "their load, of that of the top sets";
    back_off.reps may: "\"8-10\"" ["reps" 1 to 100], "of each; without it as the top sets";
    back_off.hold may: "\"20-40\"" ["seconds" 1 to 600], "of each, where the exercise is held";
    step.sets may: "4" ["sets" 1 to 20], "working sets of that week";
    step.reps may: "\"6-8\"" ["reps" 1 to 100], "of each set";
    step.hold may: "\"30-60\"" ["seconds" 1 to 600], "of each set";
    step.spare may: "1" ["reps" 0 to 9], "reps in reserve to aim for";
}

/// The field of that name.
pub fn field(thing: &str, name: &str) -> Option<&'static Field> {
    FIELDS
        .iter()
        .find(|field| field.thing == thing && field.name == name)
}

/// Its bounds; none where anything goes.
pub fn bounds(thing: &str, name: &str) -> (u32, u32) {
    field(thing, name)
        .and_then(|field| field.bounds)
        .unwrap_or((0, u32::MAX))
}

/// What to write for a field.
pub fn hints(thing: &str, name: &str) -> Option<&'static str> {
    if thing == "file" {
        return Some("'rackside program schema' shows a whole example to begin from");
    }
    field(thing, name).map(|field| field.hint)
}
