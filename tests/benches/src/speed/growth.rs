//! How cost grows from a thousand sets to a million, as plotted lines.

use crate::Bench;
use crate::home::Home;
use crate::timed::process;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::symbols::Marker;
use ratatui::widgets::{Axis, Chart, Dataset, GraphType};

/// Decimal logarithms: of how many sets, of milliseconds.
type Line = Vec<(f64, f64)>;

/// `brief --json` with its cache made anew and with it up to date, over the length of the journal.
pub fn chart(bench: &Bench) -> String {
    let (mut cold, mut warm) = (Line::new(), Line::new());
    let mut figures = String::from("sets, cache made anew, up to date (ms)\n");
    for power in 3.. {
        let sets = 10_u64.pow(power);
        if sets > bench.sets {
            break;
        }
        let own = (sets < bench.sets).then(|| Home::of(&bench.program, sets));
        let home = own.as_ref().unwrap_or(&bench.long);
        let brief = || home.run(&bench.program, &["brief", "--json"]);
        home.forget_caches();
        let (anew, again) = (process(1, brief) * 1e3, process(7, brief) * 1e3);
        figures += &format!("{sets:>9}  {anew:>9.1}  {again:>7.1}\n");
        cold.push((f64::from(power), anew.log10()));
        warm.push((f64::from(power), again.log10()));
    }
    format!("{figures}\n{}", plotted(&cold, &warm))
}

fn plotted(cold: &Line, warm: &Line) -> String {
    let line = |name, points| {
        Dataset::default()
            .name(name)
            .marker(Marker::Braille)
            .graph_type(GraphType::Line)
            .data(points)
    };
    let chart = Chart::new(vec![
        line("cache made anew", cold),
        line("up to date", warm),
    ])
    .x_axis(Axis::default().title("sets").bounds([3.0, 6.0]).labels([
        "1000",
        "10 000",
        "100 000",
        "1 000 000",
    ]))
    .y_axis(
        Axis::default()
            .title("ms")
            .bounds([0.0, 4.0])
            .labels(["1", "10", "100", "1000", "10 000"]),
    );
    let mut terminal = Terminal::new(TestBackend::new(76, 18)).expect("a terminal in memory");
    terminal
        .draw(|frame| frame.render_widget(chart, frame.area()))
        .expect("drawn");
    let buffer = terminal.backend().buffer();
    let rows = buffer.content().chunks(76);
    rows.map(|row| {
        row.iter()
            .map(|cell| cell.symbol())
            .collect::<String>()
            .trim_end()
            .to_owned()
            + "\n"
    })
    .collect()
}
