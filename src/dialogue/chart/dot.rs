//! A chart in the DOT language. Shapes and lines tell waits and ways apart without colour.

use std::fmt::Write as _;

use super::Chart;
use super::Spot;
use super::Taken;
use super::Waits;

pub(super) fn write(chart: &Chart) -> String {
    let mut text = format!(
        "digraph \"{}\" {{\n  node [fontname=\"sans-serif\"];\n",
        quoted(&chart.name)
    );
    let _ = writeln!(text, "  start [shape=point];\n  start -> n{};", chart.start);
    for (place, spot) in chart.spots.iter().enumerate() {
        let label: Vec<_> = spot.lines().iter().map(|line| quoted(line)).collect();
        let style = if spot.effects.is_empty() { "solid" } else { "bold" };
        let _ = writeln!(
            text,
            "  n{place} [shape={}, style={style}, label=\"{}\"];",
            shape(spot),
            label.join("\\n")
        );
    }
    for way in &chart.ways {
        let (style, label) = match way.when {
            Taken::Onward => ("solid", String::new()),
            Taken::Choice => ("bold", way.label.clone()),
            Taken::Guard => ("dashed", format!("if {}", way.label)),
            Taken::LeftOut => ("dotted", "left out".to_owned()),
        };
        let _ = writeln!(
            text,
            "  n{} -> n{} [style={style}, label=\"{}\"];",
            way.from,
            way.to,
            quoted(&label)
        );
    }
    text + "}\n"
}

fn shape(spot: &Spot) -> &'static str {
    match spot.waits {
        Waits::Nothing if spot.ends => "doublecircle",
        Waits::Nothing => "plaintext",
        Waits::Press => "box",
        Waits::Words => "note",
        Waits::Entry => "parallelogram",
        Waits::Choose => "diamond",
        Waits::Pick => "hexagon",
        Waits::Number => "oval",
        Waits::Deliberate => "octagon",
    }
}

fn quoted(text: &str) -> String {
    text.replace('\\', "\\\\").replace('"', "\\\"")
}
