//! A chart as a Mermaid flowchart. Shapes and lines tell waits and ways apart without colour.

use std::fmt::Write as _;

use super::Chart;
use super::Spot;
use super::Taken;
use super::Waits;

pub(super) fn write(chart: &Chart) -> String {
    let mut text = String::from("flowchart TD\n  classDef does stroke-width:4px\n");
    let _ = writeln!(text, "  start((( ))) --> n{}", chart.start);
    for (place, spot) in chart.spots.iter().enumerate() {
        let label: Vec<_> = spot.lines().iter().map(|line| escaped(line)).collect();
        let (open, close) = shape(spot);
        let class = if spot.effects.is_empty() { "" } else { ":::does" };
        let _ = writeln!(text, "  n{place}{open}\"{}\"{close}{class}", label.join("<br/>"));
    }
    for way in &chart.ways {
        let arrow = match way.when {
            Taken::Onward => "-->".to_owned(),
            Taken::Choice => format!("==>|\"{}\"|", escaped(&way.label)),
            Taken::Guard => format!("-->|\"if {}\"|", escaped(&way.label)),
            Taken::LeftOut => "-.->|\"left out\"|".to_owned(),
        };
        let _ = writeln!(text, "  n{} {arrow} n{}", way.from, way.to);
    }
    text
}

fn shape(spot: &Spot) -> (&'static str, &'static str) {
    match spot.waits {
        Waits::Nothing if spot.ends => ("(((", ")))"),
        Waits::Nothing => (">", "]"),
        Waits::Press => ("[", "]"),
        Waits::Words => ("(", ")"),
        Waits::Entry => ("[/", "/]"),
        Waits::Choose => ("{", "}"),
        Waits::Pick => ("{{", "}}"),
        Waits::Number => ("([", "])"),
        Waits::Deliberate => ("[[", "]]"),
    }
}

/// Signs with a meaning of their own inside a label, as entity codes.
fn escaped(text: &str) -> String {
    let code = |c: char| match c {
        '"' | '#' | '<' | '>' | '&' | ';' | '|' | '`' => format!("#{};", u32::from(c)),
        c => c.to_string(),
    };
    text.chars().map(code).collect()
}
