//! Quotes, commas and brackets that are wrong or missing.

use super::tests::check;
use expect_test::expect;

#[test]
fn quotes() {
    check(
        "(format: 1, name: “a”)",
        expect![[r#"
        plan.ron:1:19: error: “ is a typographic quote
             1 | (format: 1, name: “a”)
               |                   ^^^
          write the plain quote " before and behind the text
    "#]],
    );
    check(
        "(format: 1, name: \"a”,\n note: \"b\")",
        expect![[r#"
        plan.ron:1:19: error: this text is not closed
             1 | (format: 1, name: "a”,
               |                   ^
          it ends with the typographic quote ”: write " in its place
    "#]],
    );
    check(
        "(format: 1,\n name: \"a,\n note: \"b\",\n)",
        expect![[r#"
        plan.ron:2:8: error: this text is not closed
             2 |  name: "a,
               |        ^
          write " where the text ends
    "#]],
    );
    check(
        "(format: 1, name: one arm row)",
        expect![[r#"
        plan.ron:1:19: error: text stands in double quotes
             1 | (format: 1, name: one arm row)
               |                   ^^^^^^^^^^^
          write "one arm row"
    "#]],
    );
    check(
        "(format: 1, name: row)",
        expect![[r#"
            plan.ron:1:19: error: name is the word row, not text in double quotes
                 1 | (format: 1, name: row)
                   |                   ^^^
              write "row"
        "#]],
    );
}

#[test]
fn commas() {
    check(
        "(\n format: 1\n name: \"a\",\n)",
        expect![[r#"
        plan.ron:2:11: error: a comma is missing here
             2 |  format: 1
               |           ^
          write , behind this
    "#]],
    );
    check(
        "(format: 1,, name: \"a\")",
        expect![[r#"
        plan.ron:1:12: error: a field is missing before this comma
             1 | (format: 1,, name: "a")
               |            ^
          delete the comma
    "#]],
    );
    check(
        r#"(format: 1, name: "a", days: [
 (name: "a", kind: Timed, weeks: 1)
 (name: "b", kind: Timed, weeks: 1)
])"#,
        expect![[r#"
            plan.ron:2:36: error: a comma is missing here
                 2 |  (name: "a", kind: Timed, weeks: 1)
                   |                                    ^
              write , behind this
        "#]],
    );
}

#[test]
fn brackets() {
    check(
        "(format: 1, name: \"a\", days: [\n",
        expect![[r#"
        plan.ron:1:30: error: this [ is not closed
             1 | (format: 1, name: "a", days: [
               |                              ^
          write ] where it ends; the file ends first
    "#]],
    );
    check(
        "(format: 1, days: [\n(name: \"a\", kind: Timed, weeks: 1,\n], name: \"a\")",
        expect![[r#"
            plan.ron:2:1: error: this ( is not closed
                 2 | (name: "a", kind: Timed, weeks: 1,
                   | ^
              write ) before line 3, column 1
        "#]],
    );
    check(
        "(format: 1, days: [\n (name: \"a\", kind: Timed, weeks: 1),\n name: \"a\")",
        expect![[r#"
            plan.ron:1:19: error: this [ is not closed
                 1 | (format: 1, days: [
                   |                   ^
              write ] before line 3, column 2
        "#]],
    );
    check(
        "(format: 1, name: \"a\"))",
        expect![[r#"
        plan.ron:1:23: error: this ) closes nothing
             1 | (format: 1, name: "a"))
               |                       ^
          delete it, or look for a bracket closed too early above
    "#]],
    );
    check(
        "(format: 1, name: \"a\"]",
        expect![[r#"
        plan.ron:1:22: error: this ] closes nothing
             1 | (format: 1, name: "a"]
               |                      ^
          the ( of line 1 is open here: write ), or delete this one
    "#]],
    );
    check(
        "format: 1,\nname: \"a\"",
        expect![[r#"
        plan.ron:1:1: error: the fields of the file stand without brackets
             1 | format: 1,
               | ^^^^^^
          write ( before the first field and ) behind the last
    "#]],
    );
    check(
        &"[".repeat(80),
        expect![[r#"
        plan.ron:1:65: error: brackets are nested deeper than any file needs
             1 | [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[
               |                                                   ^
          close some of them before this one
    "#]],
    );
}
