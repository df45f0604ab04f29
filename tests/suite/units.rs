//! Quantities: what they take, how they are written, and that no bound is off by one.

use chrono::{DateTime, NaiveDate};
use rackside::domain::exercise::ExerciseId;
use rackside::domain::units::{
    Civil, Mass, MassError, Odds, OutOfBounds, Predicted, Reps, Seconds, Spare, Unit, Weight,
};

fn ng(text: &str, unit: Unit) -> i64 {
    Mass::parse(text, unit).unwrap().ng()
}

/// The pound is 0.45359237 kg exactly (NIST Special Publication 811, 2008, table B.8, from memory).
#[test]
fn a_pound_is_exactly_what_the_agreement_says() {
    assert_eq!(ng("1", Unit::Lb), ng("0.45359237", Unit::Kg));
    assert_eq!(ng("45", Unit::Lb), ng("20.41165665", Unit::Kg));
    assert_eq!(ng("0.0625", Unit::Lb) * 16, ng("1", Unit::Lb));
    assert_eq!(Mass::from_ng(ng("100", Unit::Lb)).kg(), 45.359237);
}

#[test]
fn a_mass_is_read_as_people_write_it() {
    assert_eq!(ng("22.5", Unit::Kg), 22_500_000_000_000);
    for same in ["22,5", "+22.5", "022.50", "22.500000000000000"] {
        assert_eq!(ng(same, Unit::Kg), ng("22.5", Unit::Kg), "{same}");
    }
    assert_eq!(ng(".5", Unit::Kg), ng("0.5", Unit::Kg));
    assert_eq!(ng("5.", Unit::Kg), ng("5", Unit::Kg));
    assert_eq!(ng("-10", Unit::Kg), -ng("10", Unit::Kg));
    assert_eq!(ng("0.000000000001", Unit::Kg), 1);
    for not in [
        "", ".", "-", "+", "1x", "x1", "1.x", "x.1", "1.2.3", "1 2", "--1", "∞",
    ] {
        assert_eq!(
            Mass::parse(not, Unit::Kg),
            Err(MassError::NotANumber),
            "{not}"
        );
    }
}

#[test]
fn a_mass_ends_at_two_tonnes_and_at_a_nanogram() {
    assert_eq!(Mass::parse("2000", Unit::Kg), Ok(Mass::MAX));
    assert_eq!(Mass::parse("0000002000", Unit::Kg), Ok(Mass::MAX));
    for heavy in [
        "2000.000000000001",
        "1000000",
        "9999999",
        "12345678",
        &"9".repeat(60),
    ] {
        let read = Mass::parse(heavy, Unit::Kg);
        assert_eq!(read, Err(MassError::OutOfBounds), "{heavy}");
    }
    for fine in [
        "0.0000000000001",
        "1.0000000000005",
        &format!("0.{}", "1".repeat(60)),
    ] {
        assert_eq!(
            Mass::parse(fine, Unit::Kg),
            Err(MassError::TooFine),
            "{fine}"
        );
    }
    // 0.00000001 lb are 4535.9237 ng.
    assert_eq!(Mass::parse("0.00000001", Unit::Lb), Err(MassError::TooFine));
    let bound = Mass::MAX.kg();
    assert_eq!(Mass::nearest(bound, Unit::Kg), Some(Mass::MAX));
    assert_eq!(
        Mass::nearest(-bound, Unit::Kg),
        Some(Mass::ZERO - Mass::MAX)
    );
    for wild in [
        bound + 0.001,
        -bound - 0.001,
        f64::INFINITY,
        -f64::INFINITY,
        f64::NAN,
    ] {
        assert_eq!(Mass::nearest(wild, Unit::Kg), None, "{wild}");
    }
}

#[test]
fn a_mass_is_written_shortly_and_with_its_sign() {
    let said = |kg: &str, unit| Mass::parse(kg, Unit::Kg).unwrap().text(unit);
    assert_eq!(said("22.50", Unit::Kg), "22.5");
    assert_eq!(said("-7.25", Unit::Kg), "-7.25");
    assert_eq!(said("0", Unit::Kg), "0");
    assert_eq!(said("20", Unit::Lb), "44.09");
    assert_eq!(said("-20", Unit::Lb), "-44.09");
    assert_eq!(said("-0.000000001", Unit::Lb), "0");
    assert_eq!(said("1.000001", Unit::Kg), "1.000001");
    assert_eq!(
        Weight::parse(" 50 lb ", Unit::Kg).unwrap().to_string(),
        "50 lb"
    );
    assert_eq!(Weight::parse("50kg", Unit::Lb).unwrap().unit, Unit::Kg);
    assert_eq!(Weight::parse("50", Unit::Lb).unwrap().unit, Unit::Lb);
}

#[test]
fn a_count_keeps_its_bounds() {
    assert_eq!(Reps::new(999).map(Reps::get), Ok(999));
    assert_eq!(Spare::new(9).map(Spare::get), Ok(9));
    assert_eq!(Seconds::new(86_400).map(Seconds::get), Ok(86_400));
    let missed = |what, max| OutOfBounds { what, min: 0, max };
    assert_eq!(Reps::new(1000), Err(missed("reps", 999)));
    assert_eq!(Spare::new(10), Err(missed("reps spare", 9)));
    assert_eq!(Seconds::new(86_401), Err(missed("seconds", 86_400)));
    assert_eq!(missed("reps", 999).to_string(), "reps must be 0 to 999");
    assert_eq!(Reps::clamped(70_000).get(), 999);
    assert_eq!(Spare::clamped(300).get(), 9);
    assert_eq!(Seconds::clamped(u32::MAX).get(), 86_400);
    assert_eq!((Reps::clamped(7).get(), Spare::clamped(7).get()), (7, 7));
    assert_eq!(Seconds::clamped(65).to_string(), "1:05");
    assert_eq!(Seconds::clamped(65).millis(), 65_000);
}

#[test]
fn odds_are_said_in_a_hundred_and_promise_nothing() {
    let said = |p| Odds::nearest(p).in_hundred();
    assert_eq!([said(0.0), said(0.004), said(0.016)], [1, 1, 2]);
    assert_eq!([said(0.8), said(0.8049), said(0.805)], [80, 80, 81]);
    assert_eq!([said(0.994), said(0.999), said(1.0)], [99, 99, 99]);
    assert_eq!(
        [said(7.0), said(-7.0), said(f64::NAN), said(f64::INFINITY)],
        [99, 1, 1, 1]
    );
    assert_eq!(Odds::nearest(0.87654).chance(), 0.8765);
    assert_eq!(Odds::nearest(0.8).to_string(), "80 in 100");
    assert_eq!(Predicted::nearest(11.26).count(), 11.3);
    assert_eq!(Predicted::nearest(-1.0).count(), 0.0);
    assert_eq!(Predicted::nearest(f64::NAN).count(), 0.0);
    assert_eq!(Predicted::nearest(1e9).count(), 86_400.0);
}

#[test]
fn a_name_is_one_to_sixty_four_lower_case_letters_digits_and_underscores() {
    for name in ["a", "push_up", "x2", &"a".repeat(64)] {
        assert_eq!(ExerciseId::new(name).unwrap().as_str(), name);
    }
    for not in [
        "",
        &"a".repeat(65),
        "Push",
        "push-up",
        "push up",
        "ä",
        "a/b",
        "UP",
        "-",
    ] {
        assert_eq!(ExerciseId::new(not), None, "{not}");
    }
}

/// Instants are written by RFC 3339.
#[test]
fn an_instant_keeps_its_millisecond_and_its_offset() {
    let text = "2026-11-19T18:22:05.123+01:00";
    let at = Civil::parse(text).unwrap();
    assert_eq!(at.to_string(), text);
    assert_eq!(at.to_the_second(), "2026-11-19T18:22:05+01:00");
    assert_eq!((at.clock(), at.year()), ("18:22".to_owned(), 2026));
    // 19 November 2026, 17:22:05 UTC, as `date -u -d @1795108925` says it.
    assert_eq!(at.parts(), (1_795_108_925_123, 3600));
    let (millis, offset) = at.parts();
    assert_eq!(Civil::of_parts(millis, offset), Some(at));
    assert_eq!(Civil::of_parts(i64::MAX, 0), None);
    assert_eq!(Civil::of_parts(0, 90_000), None);
    let fine = DateTime::parse_from_rfc3339("2026-11-19T18:22:05.123999999+01:00").unwrap();
    assert_eq!(Civil::new(fine), at);
    let later = at.plus(61_500);
    assert_eq!((later.since(at), at.since(later)), (61_500, -61_500));
    assert_eq!(at.midnight().to_the_second(), "2026-11-19T00:00:00+01:00");
    let day = NaiveDate::from_ymd_opt(2026, 1, 2).unwrap();
    assert_eq!(at.noon_of(day).to_the_second(), "2026-01-02T12:00:00+01:00");
    assert_eq!(at.plus(i64::MAX / 2), at);
    // At ten in the evening west of Greenwich it is tomorrow there.
    let west = Civil::parse("2025-12-31T22:30:00-08:00").unwrap();
    assert_eq!(
        (west.year(), west.date().to_string()),
        (2025, "2025-12-31".to_owned())
    );
}
