//! The colours of the charts by role, on light and on dark ground.

use plotters::style::RGBColor;

/// What something on a chart is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Ink {
    /// Letters and axes.
    Text,
    /// Lines behind everything.
    Grid,
    /// A set, or a share that came true.
    Mark,
    /// What is believed.
    Band,
    /// A trend, or where stated and true would be the same.
    Line,
    /// A week, or a muscle.
    Bar,
    /// A published range.
    Range,
}

/// Every role on light and on dark ground. On light ground the charts have these colours of
/// themselves; on dark ground the page's style changes each by its light value: no two are alike.
const INKS: [(Ink, [u8; 3], [u8; 3]); 7] = [
    (Ink::Text, [0x2e, 0x34, 0x38], [0xd8, 0xdd, 0xe0]),
    (Ink::Grid, [0xdc, 0xe0, 0xe2], [0x38, 0x40, 0x46]),
    (Ink::Mark, [0x1b, 0x63, 0x52], [0x7f, 0xd1, 0xb9]),
    (Ink::Band, [0xbf, 0xdd, 0xd3], [0x27, 0x4c, 0x44]),
    (Ink::Line, [0xa6, 0x46, 0x1c], [0xf0, 0xa0, 0x74]),
    (Ink::Bar, [0x35, 0x62, 0x99], [0x86, 0xb2, 0xe6]),
    (Ink::Range, [0xe6, 0xe4, 0xd6], [0x3e, 0x3c, 0x30]),
];

impl Ink {
    pub(super) fn light(self) -> RGBColor {
        let found = INKS.iter().find(|(ink, ..)| *ink == self);
        let [r, g, b] = found.map_or([0; 3], |(_, light, _)| *light);
        RGBColor(r, g, b)
    }
}

fn code([r, g, b]: [u8; 3]) -> String {
    format!("#{r:02X}{g:02X}{b:02X}")
}

/// The style that changes the charts' colours on dark ground; paper is always light.
pub(super) fn style() -> String {
    let rules = INKS.map(|(_, light, dark)| {
        let (light, dark) = (code(light), code(dark));
        format!("[fill=\"{light}\"]{{fill:{dark}}}[stroke=\"{light}\"]{{stroke:{dark}}}\n")
    });
    format!(
        "@media screen and (prefers-color-scheme: dark) {{\n{}}}\n",
        rules.concat()
    )
}
