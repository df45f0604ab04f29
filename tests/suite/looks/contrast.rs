//! Text stands off its ground: the contrast of WCAG 2.2 (success criteria 1.4.3 and 1.4.6, whose
//! formula is the definition of "contrast ratio" there), computed for every role.

use rackside::domain::history::Ground;
use rackside::ui::theme::{Depth, Role, Theme};
use ratatui::style::Color;

type Rgb = [u8; 3];

const BLACK: Rgb = [0, 0, 0];
const WHITE: Rgb = [255, 255, 255];
/// Tinted grounds that people set: blue-green and slate, cream.
const DARK_TINTS: [Rgb; 2] = [[0x00, 0x2b, 0x36], [0x28, 0x2c, 0x34]];
const LIGHT_TINTS: [Rgb; 2] = [[0xfd, 0xf6, 0xe3], [0xf6, 0xf8, 0xfa]];

fn luminance(colour: Rgb) -> f64 {
    let linear = |part: u8| {
        let part = f64::from(part) / 255.0;
        if part <= 0.04045 {
            part / 12.92
        } else {
            ((part + 0.055) / 1.055).powf(2.4)
        }
    };
    let [r, g, b] = colour.map(linear);
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

fn contrast(a: Rgb, b: Rgb) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// The colours of the table of 256 from 16 on, a cube and greys (from memory: xterm's); the sixteen
/// as the VGA has them (from memory).
fn rgb(colour: Color) -> Rgb {
    match colour {
        Color::Indexed(n @ 16..=231) => {
            let n = n - 16;
            [n / 36, n / 6 % 6, n % 6].map(|part| if part == 0 { 0 } else { 55 + 40 * part })
        }
        Color::Indexed(n @ 232..) => [8 + 10 * (n - 232); 3],
        Color::LightCyan => [0x55, 0xff, 0xff],
        Color::LightGreen => [0x55, 0xff, 0x55],
        Color::LightYellow => [0xff, 0xff, 0x55],
        Color::LightRed => [0xff, 0x55, 0x55],
        Color::Blue => [0, 0, 0xaa],
        Color::Red => [0xaa, 0, 0],
        other => panic!("no colour of ours: {other}"),
    }
}

/// What the countdown may be drawn in wants more.
fn wanted(role: Role) -> f64 {
    match role {
        Role::Strong | Role::Recover | Role::Open | Role::Late => 7.0,
        Role::Text | Role::Quiet | Role::Warning | Role::Marked => 4.5,
    }
}

#[test]
fn the_formula_gives_what_others_computed() {
    // The two ends are WCAG's own; the blue is published with the Okabe-Ito colours.
    assert!((contrast(BLACK, WHITE) - 21.0).abs() < 1e-9);
    let blue = [0x00, 0x72, 0xb2];
    assert!((contrast(blue, WHITE) - 5.2).abs() < 0.05);
    assert!((contrast(blue, BLACK) - 4.05).abs() < 0.01);
}

#[test]
fn every_role_stands_off_every_ground_of_its_theme() {
    let dark = [BLACK, DARK_TINTS[0], DARK_TINTS[1]];
    let light = [WHITE, LIGHT_TINTS[0], LIGHT_TINTS[1]];
    for (ground, others) in [(Ground::Dark, dark), (Ground::Light, light)] {
        let theme = Theme::new(ground, Depth::Full);
        let painted = rgb(theme.ground().expect("a ground of its own"));
        for role in Role::ALL {
            let letters = rgb(theme.style(role).fg.expect("a colour of its own"));
            for below in others.into_iter().chain([painted]) {
                let found = contrast(letters, below);
                assert!(
                    found >= wanted(role),
                    "{ground:?} {role:?} on {below:02x?}: {found:.2}"
                );
            }
        }
    }
}

/// Where there are sixteen colours the ground and plain text are the terminal's own.
#[test]
fn sixteen_colours_stand_off_black_and_white() {
    for (ground, below) in [(Ground::Dark, BLACK), (Ground::Light, WHITE)] {
        let theme = Theme::new(ground, Depth::Sixteen);
        assert_eq!(theme.ground(), None);
        for role in Role::ALL {
            if let Some(letters) = theme.style(role).fg {
                let found = contrast(rgb(letters), below);
                assert!(found >= wanted(role), "{ground:?} {role:?}: {found:.2}");
            }
        }
    }
}

#[test]
fn without_colour_nothing_has_one_and_what_is_marked_still_differs() {
    for depth in [Depth::Full, Depth::Sixteen] {
        let theme = Theme::new(Ground::Plain, depth);
        for role in Role::ALL {
            let style = theme.style(role);
            assert_eq!((style.fg, style.bg), (None, None), "{role:?}");
        }
        let plain = theme.style(Role::Text);
        for role in [Role::Marked, Role::Strong, Role::Warning] {
            assert_ne!(
                theme.style(role).add_modifier,
                plain.add_modifier,
                "{role:?}"
            );
        }
    }
}
