//! Each mistake that people make in such files, with the exact words that they are told.

#![allow(clippy::unwrap_used, reason = "a test that meets the unexpected fails")]

use super::{Source, draft, listed, near, no_hints, parse};
use expect_test::{Expect, expect};
use serde::Deserialize;

#[derive(Deserialize, PartialEq, Debug)]
#[serde(rename = "plan", deny_unknown_fields)]
struct Plan {
    format: u32,
    name: String,
    note: Option<String>,
    load: Option<f64>,
    #[serde(default)]
    days: Vec<Day>,
}

#[derive(Deserialize, PartialEq, Debug)]
#[serde(rename = "day", deny_unknown_fields)]
struct Day {
    name: String,
    kind: Kind,
    weeks: u8,
}

#[derive(Deserialize, PartialEq, Debug)]
enum Kind {
    Fixed(u32),
    Range { from: u32, to: u32 },
    Timed,
}

pub(super) fn check(text: &str, expected: Expect) {
    let said = match parse::<Plan>("plan.ron", text) {
        Ok(plan) => format!("{plan:#?}"),
        Err(problems) => problems.iter().map(|p| format!("{p}\n")).collect(),
    };
    expected.assert_eq(&said);
}

#[test]
fn a_right_text_is_read_as_the_library_reads_it() {
    check(
        "\u{feff}(format: 1, name: \"a\", note: \"b\", /* c /* d */ */ load: 62.5, days: [\n\
         (name: \"x\", kind: Range(from: 1, to: 2), weeks: 0x04), // e\r\n\
         (name: r#\"y\"#, kind: Timed, weeks: 3)])",
        expect![[r#"
            Plan {
                format: 1,
                name: "a",
                note: Some(
                    "b",
                ),
                load: Some(
                    62.5,
                ),
                days: [
                    Day {
                        name: "x",
                        kind: Range {
                            from: 1,
                            to: 2,
                        },
                        weeks: 4,
                    },
                    Day {
                        name: "y",
                        kind: Timed,
                        weeks: 3,
                    },
                ],
            }"#]],
    );
}

#[test]
fn all_problems_of_a_text_are_told_at_once() {
    check(
        r#"(
  format: 1,
  name: 5,
  days: [
    (name: "a", kind: fixed(3), weeks: 4.5),
    (name: "b", kind: Timed),
    (nmae: "c", kind: Timed, weeks: 300),
  ],
  lod: 3,
)"#,
        expect![[r#"
            plan.ron:3:9: error: name is the number 5, not text in double quotes
                 3 |   name: 5,
                   |         ^
              write "5"
            plan.ron:5:23: error: kind cannot be fixed
                 5 |     (name: "a", kind: fixed(3), weeks: 4.5),
                   |                       ^^^^^^
              did you mean Fixed? It can be Fixed, Range or Timed
            plan.ron:5:40: error: weeks is the number 4.5, not a whole number from 0 to 255
                 5 |     (name: "a", kind: fixed(3), weeks: 4.5),
                   |                                        ^^^
              write a whole number from 0 to 255
            plan.ron:6:5: error: the day "b" has no weeks
                 6 |     (name: "b", kind: Timed),
                   |     ^
              add weeks: and its value
            plan.ron:7:6: error: a day has no field nmae
                 7 |     (nmae: "c", kind: Timed, weeks: 300),
                   |      ^^^^
              did you mean name?
            plan.ron:7:37: error: weeks is the number 300, not a whole number from 0 to 255
                 7 |     (nmae: "c", kind: Timed, weeks: 300),
                   |                                     ^^^
              write a whole number from 0 to 255
            plan.ron:9:3: error: a plan has no field lod
                 9 |   lod: 3,
                   |   ^^^
              did you mean load?
        "#]],
    );
}

#[test]
fn decimal_comma() {
    check(
        "(format: 1, name: \"a\", load: 62,5)",
        expect![[r#"
        plan.ron:1:30: error: decimals stand behind a point, not a comma
             1 | (format: 1, name: "a", load: 62,5)
               |                              ^^^^
          write 62.5
    "#]],
    );
    check(
        "(format: 1, load: 62,5, name: \"a\")",
        expect![[r#"
        plan.ron:1:19: error: decimals stand behind a point, not a comma
             1 | (format: 1, load: 62,5, name: "a")
               |                   ^^^^
          write 62.5
    "#]],
    );
}

#[test]
fn comments_with_a_hash() {
    check(
        "# mine\n(format: 1, name: \"a\") # end",
        expect![[r#"
        plan.ron:1:1: error: comments do not start with #
             1 | # mine
               | ^
          write // in its place
        plan.ron:2:24: error: comments do not start with #
             2 | (format: 1, name: "a") # end
               |                        ^
          write // in its place
    "#]],
    );
}

#[test]
fn json_habits() {
    check(
        "{\"format\": 1, \"name\": \"a\", \"days\": []}",
        expect![[r#"
            plan.ron:1:1: error: fields stand in round brackets, not in { }
                 1 | {"format": 1, "name": "a", "days": []}
                   | ^
              write ( and ), here and wherever else; names stand without quotes
        "#]],
    );
    check(
        "(\"format\": 1, \"name\": \"a\")",
        expect![[r#"
        plan.ron:1:2: error: a field's name stands without quotes
             1 | ("format": 1, "name": "a")
               |  ^^^^^^^^
          write format: without them, here and wherever else
    "#]],
    );
    check(
        "(format = 1; name: 'abc')",
        expect![[r#"
        plan.ron:1:9: error: a field's value does not follow =
             1 | (format = 1; name: 'abc')
               |         ^
          write a colon
        plan.ron:1:12: error: a semicolon separates nothing here
             1 | (format = 1; name: 'abc')
               |            ^
          write a comma
        plan.ron:1:20: error: text does not stand in single quotes
             1 | (format = 1; name: 'abc')
               |                    ^^^^^
          write double quotes: " before and behind it
    "#]],
    );
}

#[test]
fn nothing_and_next_to_nothing() {
    check(
        "",
        expect![[r#"
        plan.ron: error: the file is empty
          write its fields between ( and )
    "#]],
    );
    check(
        "\u{feff}// only a word\n",
        expect![[r#"
        plan.ron: error: the file is empty
          write its fields between ( and )
    "#]],
    );
    check(
        "()",
        expect![[r#"
        plan.ron:1:1: error: this plan has no format
             1 | ()
               | ^
          add format: and its value
        plan.ron:1:1: error: this plan has no name
             1 | ()
               | ^
          add name: and its value
    "#]],
    );
    check(
        "[]",
        expect![[r#"
        plan.ron:1:1: error: this is a list, not the fields of a plan in ( )
             1 | []
               | ^
          write the fields of a plan in ( )
    "#]],
    );
}

#[test]
fn numbers() {
    check(
        "(format: 1, name: \"a\", load: NaN)",
        expect![[r#"
            plan.ron:1:30: error: NaN is not a finite number
                 1 | (format: 1, name: "a", load: NaN)
                   |                              ^^^
              write a number with digits, such as 62.5
        "#]],
    );
    check(
        "(format: 1, name: \"a\", load: -inf)",
        expect![[r#"
        plan.ron:1:30: error: -inf is not a finite number
             1 | (format: 1, name: "a", load: -inf)
               |                              ^^^^
          write a number with digits, such as 62.5
    "#]],
    );
    check(
        "(format: 1, name: \"a\", load: 1e999)",
        expect![[r#"
        plan.ron:1:30: error: 1e999 is not a finite number
             1 | (format: 1, name: "a", load: 1e999)
               |                              ^^^^^
          write a number with digits, such as 62.5
    "#]],
    );
    check(
        "(format: 1, name: \"a\", load: 90s)",
        expect![[r#"
            plan.ron:1:30: error: 90s is not a number
                 1 | (format: 1, name: "a", load: 90s)
                   |                              ^^^
              write 90 alone, or "90s" if text is meant
        "#]],
    );
    check(
        "(format: -4, name: 8-12, note: 1:30)",
        expect![[r#"
        plan.ron:1:10: error: format is the number -4, not a whole number, 0 or more
             1 | (format: -4, name: 8-12, note: 1:30)
               |          ^^
          write a whole number, 0 or more
        plan.ron:1:20: error: a range stands in double quotes
             1 | (format: -4, name: 8-12, note: 1:30)
               |                    ^^^^
          write "8-12"
        plan.ron:1:32: error: a time stands in double quotes
             1 | (format: -4, name: 8-12, note: 1:30)
               |                                ^^^^
          write "1:30"
    "#]],
    );
}

#[test]
fn characters_that_do_not_show() {
    check(
        "(format: 1, name: \"a\u{1b}[2J\")",
        expect![[r#"
        plan.ron:1:21: error: a character that does not show (U+001B) stands here
             1 | (format: 1, name: "a�[2J")
               |                     ^
          delete it; if you cannot see it, type the line anew
    "#]],
    );
    check(
        "(format: 1, name: \"a\\u{1b}b\")",
        expect![[r#"
        plan.ron:1:21: error: a character that does not show (U+001B) stands here
             1 | (format: 1, name: "a\u{1b}b")
               |                     ^^^^^^
          delete it; if you cannot see it, type the line anew
    "#]],
    );
    check(
        "(format:\u{a0}1, name: \"a\") // \u{202e}",
        expect![[r#"
        plan.ron:1:9: error: this blank (U+00A0) is not a plain one
             1 | (format: 1, name: "a") // �
               |         ^
          delete it and type a space
        plan.ron:1:27: error: a character that does not show (U+202E) stands here
             1 | (format: 1, name: "a") // �
               |                           ^
          delete it; if you cannot see it, type the line anew
    "#]],
    );
}

#[test]
fn a_place_outlives_the_reading() {
    let text = "(format: 1, name: \"a\", days: [\n  (name: \"x\", kind: Timed, weeks: 3),\n])";
    let draft = draft::<Plan>(Source::new("p", text), no_hints).unwrap();
    let weeks = draft.root().field("days").item(0).field("weeks");
    assert_eq!(weeks.line(), Some(2));
    let absent = draft.root().field("days").item(7).field("weeks");
    assert_eq!(absent.line(), Some(1));
    let problem = draft.problem(weeks, "three is too few", "write 4").unwrap();
    expect![[r"p:2:35: error: three is too few"]]
        .assert_eq(problem.to_string().lines().next().unwrap());
}

#[test]
fn near_names() {
    let known = ["goblet_squat", "front_squat", "push_up"];
    assert_eq!(near("Goblet Squat", known), Some("goblet_squat"));
    assert_eq!(near("goblt_squat", known), Some("goblet_squat"));
    assert_eq!(near("pushup", known), Some("push_up"));
    assert_eq!(near("deadlift", known), None);
    assert_eq!(listed(&["a", "b", "c"]), "a, b or c");
}

#[test]
fn brackets_without_end_do_not_exhaust_the_stack() {
    for opening in ["[", "(", "{", "Some(", "(a:", "/*"] {
        let problems = parse::<Plan>("p", &opening.repeat(200_000)).unwrap_err();
        assert_eq!(problems.len(), 1, "{opening}");
    }
    let strange = parse::<Plan>("p", &"*/".repeat(200_000)).unwrap_err();
    assert!(strange.len() <= super::MOST);
}
