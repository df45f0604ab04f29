//! The charts, as SVG. No text of a person's goes into one: days, numbers and muscles alone.

use super::ink::Ink;
use crate::domain::exercise::Muscle;
use crate::domain::logbook::plot::Plot;
use crate::domain::logbook::week::Week;
use crate::domain::strength::calibration::Score;
use chrono::NaiveDate;
use plotters::chart::MeshStyle;
use plotters::coord::ranged1d::SegmentValue;
use plotters::prelude::*;

/// Width and height: small, so that letters stay large where a page is narrow.
const SIZE: (u32, u32) = (440, 210);
/// Height of letters.
const LETTERS: u32 = 16;

type Drawn = Result<(), Box<dyn std::error::Error>>;
type Area<'a> = DrawingArea<SVGBackend<'a>, plotters::coord::Shift>;

/// A chart; nothing where it cannot be drawn.
fn svg(size: (u32, u32), draw: impl FnOnce(&Area<'_>) -> Drawn) -> String {
    let mut text = String::new();
    let drawn = {
        let root = SVGBackend::with_string(&mut text, size).into_drawing_area();
        draw(&root).and_then(|()| Ok(root.present()?))
    };
    if drawn.is_err() {
        return String::new();
    }
    // Inside HTML an SVG has its name space without saying so.
    text.replacen(" xmlns=\"http://www.w3.org/2000/svg\"", " role=\"img\"", 1)
}

fn letters() -> TextStyle<'static> {
    ("sans-serif", LETTERS)
        .into_font()
        .color(&Ink::Text.light())
}

/// A chart with room for the numbers below it, and so much for the names left of it.
fn framed<'r, 'b>(root: &'r Area<'b>, names: u32) -> ChartBuilder<'r, 'b, SVGBackend<'b>> {
    let mut chart = ChartBuilder::on(root);
    chart
        .margin(6)
        .x_label_area_size(28)
        .y_label_area_size(names);
    chart
}

/// Grid, axes and letters: the same in every chart.
fn inked<'m, 'r, 'f, X: Ranged, Y: Ranged, D: DrawingBackend>(
    mesh: &'m mut MeshStyle<'r, 'f, X, Y, D>,
) -> &'m mut MeshStyle<'r, 'f, X, Y, D> {
    mesh.light_line_style(TRANSPARENT)
        .bold_line_style(Ink::Grid.light())
        .axis_style(Ink::Text.light())
        .label_style(letters())
}

/// The least and the greatest, with some room to both sides.
fn roomy(values: impl Iterator<Item = f64>, room: f64) -> Option<std::ops::Range<f64>> {
    let (low, high) = values.fold((f64::MAX, f64::MIN), |(low, high), value| {
        (low.min(value), high.max(value))
    });
    (low <= high).then(|| {
        let room = ((high - low) * room).max(1.0);
        low - room..high + room
    })
}

/// A day, with its year where the days are many.
fn day(number: f64, days: &std::ops::Range<f64>) -> String {
    let date = NaiveDate::from_num_days_from_ce_opt(number as i32);
    let form = if days.end - days.start > 300.0 {
        "%b %Y"
    } else {
        "%-d %b"
    };
    date.map_or_else(String::new, |date| date.format(form).to_string())
}

/// What sets, beliefs and the trend say over days.
pub(super) fn strength(plot: &Plot) -> String {
    let days = plot.points.iter().map(|(day, _)| *day);
    let values = plot.points.iter().map(|(_, value)| *value);
    // What was believed at first may be so wide that nothing else could be seen beside it.
    let last = plot.band.last().into_iter();
    let ends = last.flat_map(|(_, low, high)| [*low, *high]);
    let values = values
        .chain(ends)
        .chain(plot.line.iter().map(|(_, value)| *value));
    let (Some(days), Some(values)) = (roomy(days, 0.03), roomy(values, 0.08)) else {
        return String::new();
    };
    svg(SIZE, |root| {
        let mut chart =
            framed(root, 48).build_cartesian_2d(days.clone(), values.start.max(0.0)..values.end)?;
        let band = Ink::Band.light();
        let edge = |low: bool| {
            let end = move |(day, below, above): &(f64, f64, f64)| {
                (
                    *day,
                    if low { *below } else { *above }.clamp(values.start.max(0.0), values.end),
                )
            };
            plot.band.iter().map(end)
        };
        let around: Vec<(f64, f64)> = edge(true).chain(edge(false).rev()).collect();
        if plot.band.len() > 1 {
            chart.draw_series([Polygon::new(around, band.filled())])?;
        }
        let mut mesh = chart.configure_mesh();
        inked(&mut mesh)
            .disable_x_mesh()
            .x_labels(5)
            .y_labels(5)
            .x_label_formatter(&|number| day(*number, &days))
            .y_label_formatter(&|value| format!("{value:.0}"))
            .draw()?;
        let line = Ink::Line.light().stroke_width(2);
        chart.draw_series(LineSeries::new(plot.line.iter().copied(), line))?;
        let mark = Ink::Mark.light();
        let marks = plot.points.iter();
        chart.draw_series(marks.map(|point| Circle::new(*point, 3, mark.filled())))?;
        Ok(())
    })
}

/// A bar for each week.
pub(super) fn by_week(weeks: &[(Week, f64)]) -> String {
    let most = weeks.iter().map(|(_, value)| *value).fold(0.0, f64::max);
    if most <= 0.0 {
        return String::new();
    }
    svg(SIZE, |root| {
        let mut chart =
            framed(root, 62).build_cartesian_2d(0.0..weeks.len() as f64, 0.0..most * 1.06)?;
        let monday = |place: &f64| {
            let week = weeks.get(*place as usize);
            week.map_or_else(String::new, |(week, _)| {
                week.monday().format("%-d %b").to_string()
            })
        };
        let mut mesh = chart.configure_mesh();
        inked(&mut mesh)
            .disable_x_mesh()
            .x_labels(5)
            .y_labels(5)
            .x_label_formatter(&monday)
            .y_label_formatter(&|value| format!("{value:.0}"))
            .draw()?;
        let bar = |(k, (_, value)): (usize, &(Week, f64))| {
            let left = k as f64 + 0.12;
            Rectangle::new(
                [(left, 0.0), (left + 0.76, *value)],
                Ink::Bar.light().filled(),
            )
        };
        chart.draw_series(weeks.iter().enumerate().map(bar))?;
        Ok(())
    })
}

/// Mean weekly hard sets of each muscle, with the published range behind.
pub(super) fn muscles(means: &[(Muscle, f64)], (least, most): (f64, f64)) -> String {
    let count = means.len();
    if count == 0 {
        return String::new();
    }
    let widest = means
        .iter()
        .map(|(_, sets)| *sets)
        .fold(most * 1.1, f64::max);
    let height = u32::try_from(count).unwrap_or(20) * 22 + 44;
    svg((SIZE.0, height), |root| {
        let mut chart =
            framed(root, 132).build_cartesian_2d(0.0..widest, (0..count - 1).into_segmented())?;
        let range = Ink::Range.light().filled();
        let ends = [
            (least, SegmentValue::Exact(0)),
            (most, SegmentValue::Exact(count)),
        ];
        chart.draw_series([Rectangle::new(ends, range)])?;
        let muscle = |place: &SegmentValue<usize>| match place {
            SegmentValue::CenterOf(k) => means
                .get(count - 1 - (*k).min(count - 1))
                .map_or_else(String::new, |(muscle, _)| muscle.to_string()),
            SegmentValue::Exact(_) | SegmentValue::Last => String::new(),
        };
        let mut mesh = chart.configure_mesh();
        inked(&mut mesh)
            .disable_y_mesh()
            .x_labels(6)
            .y_labels(count)
            .x_label_formatter(&|sets| format!("{sets:.0}"))
            .y_label_formatter(&muscle)
            .draw()?;
        let bars = means.iter().rev().enumerate().map(|(k, (_, sets))| {
            let ends = [
                (0.0, SegmentValue::Exact(k)),
                (*sets, SegmentValue::Exact(k + 1)),
            ];
            let mut bar = Rectangle::new(ends, Ink::Bar.light().filled());
            bar.set_margin(4, 4, 0, 0);
            bar
        });
        chart.draw_series(bars)?;
        Ok(())
    })
}

/// Stated odds against the share that came true.
pub(super) fn odds(score: &Score) -> String {
    let bins = score.bins.iter();
    let points: Vec<(f64, f64, usize)> = bins
        .filter_map(|bin| Some((bin.stated()? * 100.0, bin.came_true()? * 100.0, bin.count)))
        .collect();
    let all = score.count().max(1) as f64;
    if points.is_empty() {
        return String::new();
    }
    svg(SIZE, |root| {
        let mut chart = framed(root, 48).build_cartesian_2d(0.0..100.0, 0.0..100.0)?;
        let mut mesh = chart.configure_mesh();
        inked(&mut mesh)
            .x_labels(6)
            .y_labels(6)
            .x_label_formatter(&|share| format!("{share:.0}"))
            .y_label_formatter(&|share| format!("{share:.0}"))
            .draw()?;
        let same = [(0.0, 0.0), (100.0, 100.0)];
        chart.draw_series(LineSeries::new(same, Ink::Line.light()))?;
        let circles = points.iter().map(|(stated, came_true, count)| {
            let radius = 3 + (12.0 * (*count as f64 / all).sqrt()) as i32;
            Circle::new((*stated, *came_true), radius, Ink::Mark.light().filled())
        });
        chart.draw_series(circles)?;
        Ok(())
    })
}
