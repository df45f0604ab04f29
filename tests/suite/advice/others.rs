//! What a lifter's exercises share, asked by a script: how they tell of the reserve, and how often
//! a set is spoilt, is known of an exercise from the others before its own sets can say it.

use rackside::domain::advice::standalone::{
    Answer, Answers, Beginning, PastSession, PastSet, Question, SetPlan,
};
use rackside::domain::exercise::GivesWay;
use rackside::domain::strength::belief::Learning;

/// Reps, the reserve that was told, whether as many as there were was asked.
type Made = (u32, Option<f64>, bool);

fn session(day: i64, load: f64, sets: &[Made]) -> PastSession {
    let set = |(reps, spare, open): &Made| PastSet {
        load,
        reps: *reps,
        target: 8,
        spare: *spare,
        rest: None,
        open: *open,
        deload: false,
    };
    let sets = sets.iter().map(set).collect();
    PastSession { day, sets }
}

/// Sessions alike, every four days.
fn sessions(count: i64, load: f64, sets: &[Made]) -> Vec<PastSession> {
    (0..count)
        .map(|number| session(number * 4, load, sets))
        .collect()
}

/// Presses after one session with one spare told in every set, among other exercises.
fn presses(journal: Vec<(&str, Vec<PastSession>)>) -> Question {
    Question {
        lifter: 1,
        exercise: "press".to_owned(),
        gives_way: GivesWay::PutDown,
        day: 40,
        plan: SetPlan {
            sets: 3,
            least: 8,
            most: 8,
            rest: 90,
            spare: None,
        },
        loads: vec![16.0],
        beginning: Beginning {
            class_max: 25.0,
            guess: Some(16.0),
            learning: Learning::Trained,
        },
        history: vec![session(36, 16.0, &[(8, Some(1.0), false); 3])],
        session: Vec::new(),
        journal: journal
            .into_iter()
            .map(|(name, history)| (name.to_owned(), history))
            .collect(),
    }
}

fn answer(question: &Question) -> Answer {
    Answers::default().answer(question).expect("a load")
}

#[test]
fn who_has_more_left_than_they_say_in_one_exercise_has_so_in_the_next() {
    let told = (8, Some(1.0), false);
    let modest = [told, told, (14, None, true)];
    let exact = [told, told, (9, None, true)];
    let reps = |sets: &[Made]| answer(&presses(vec![("row", sessions(8, 24.0, sets))])).reps;
    let alone = answer(&presses(Vec::new())).reps;
    assert!(
        reps(&modest) > alone + 0.2 && reps(&modest) > reps(&exact) + 0.1,
        "{} {alone} {}",
        reps(&modest),
        reps(&exact)
    );
}

#[test]
fn whose_sets_are_often_spoilt_is_told_lower_odds_in_every_exercise() {
    let plain = (8, Some(2.0), false);
    let spoilt = [plain, (2, None, false), plain];
    let odds = |sets: &[Made]| answer(&presses(vec![("row", sessions(8, 24.0, sets))])).success;
    assert!(
        odds(&spoilt) < odds(&[plain; 3]) - 0.05,
        "{} {}",
        odds(&spoilt),
        odds(&[plain; 3])
    );
}

#[test]
fn an_exercise_without_sets_and_the_asked_one_itself_change_nothing() {
    let alone = answer(&presses(Vec::new()));
    let own = presses(Vec::new()).history;
    assert_eq!(alone, answer(&presses(vec![("press", own)])));
    assert_eq!(alone, answer(&presses(vec![("row", Vec::new())])));
}

#[test]
fn answers_on_the_way_are_those_from_scratch_while_the_other_exercises_go_on() {
    let mut kept = Answers::default();
    let sets = [(8, Some(1.0), false), (8, None, false), (7, None, false)];
    for count in 0..6 {
        let rows = sessions(count, 24.0, &sets);
        let mut question = presses(vec![("row", rows), ("curl", sessions(1, 10.0, &sets))]);
        for set in session(0, 16.0, &sets).sets {
            assert_eq!(kept.answer(&question), Answers::default().answer(&question));
            question.session.push(set);
        }
    }
}
