//! `rackside export report`: one page that stands alone, with the views' own numbers.

use crate::rig::cli::Cli;

fn demo(cli: &Cli) {
    let home = cli.home().to_string_lossy().into_owned();
    let _ = cli
        .run(["demo", "--write-only", "--seed", "1", "--home", &home])
        .ok();
}

/// What a page can load something by, or run (HTML Living Standard: attributes and elements that
/// hold addresses or scripts; CSS: `url()`, `@import`).
const WAYS_OUT: [&str; 20] = [
    "http:",
    "https:",
    "//",
    "src=",
    "href",
    "srcset",
    "url(",
    "@import",
    "@font-face",
    "<script",
    "<link",
    "<img",
    "<iframe",
    "<object",
    "<embed",
    "<form",
    "<base",
    "<use",
    "<image",
    "javascript:",
];

#[test]
fn it_refers_to_nothing_outside() {
    let cli = Cli::new();
    demo(&cli);
    let page = cli.run(["export", "report"]).ok();
    for way in WAYS_OUT {
        assert!(!page.contains(way), "{way} is in the report");
    }
    let policy = "http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; ";
    assert!(page.contains(policy));
    assert!(page.matches("<svg").count() > 5, "charts are in it");
    assert!(page.contains("prefers-color-scheme: dark") && page.contains("@media print"));
}

/// Words and numbers are those of the views.
#[test]
fn it_says_what_the_views_say() {
    let cli = Cli::new();
    demo(&cli);
    let page = cli.run(["export", "report"]).ok();
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let page = words(&page);
    let strength = words(&cli.run(["trends", "strength", "goblet_squat"]).ok());
    let (_, stands) = strength
        .split_once("Its sets show")
        .expect("where it stands");
    assert!(page.contains(stands), "{stands}");
    let deload = cli.run(["trends", "deload"]).ok();
    let first = words(deload.lines().next().expect("a line"));
    assert!(page.contains(&first), "{first}");
    let work = cli.run(["trends", "work"]).ok();
    let week = work
        .lines()
        .rfind(|line| line.starts_with("W4"))
        .expect("a week");
    for number in week
        .split("  ")
        .map(str::trim)
        .skip(1)
        .filter(|n| !n.is_empty())
    {
        assert!(
            page.contains(&format!("<td>{number}</td>")),
            "{number} of {week}"
        );
    }
}

#[test]
fn names_in_it_are_text() {
    let cli = Cli::new();
    demo(&cli);
    let shipped = include_str!("../../shared/exercises.ron");
    let named = shipped.replace("\"Goblet squat\"", "\"<b onload='x'>Squat & \\\"co\\\"\"");
    assert_ne!(named, shipped);
    cli.write("config/exercises.ron", &named);
    let page = cli.run(["export", "report"]).ok();
    let escaped = "&lt;b onload=&#39;x&#39;&gt;Squat &amp; &quot;co&quot;";
    assert!(page.contains(escaped));
    assert!(!page.contains("<b ") && !page.contains("onload='"));
}

#[test]
fn an_empty_journal_has_a_report_too() {
    let cli = Cli::new();
    let page = cli.run(["export", "report"]).ok();
    assert!(page.contains("0 sessions"), "{page}");
    assert!(page.ends_with("</html>\n"));
}
