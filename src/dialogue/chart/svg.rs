//! A chart as SVG, laid out from top to bottom. What each node waits for and does stands in it as words, so that the
//! colours only help.

use layout::backends::svg::SVGWriter;
use layout::core::base::Orientation;
use layout::core::color::Color;
use layout::core::geometry::Point;
use layout::core::style::LineStyleKind;
use layout::core::style::StyleAttr;
use layout::std_shapes::shapes::Arrow;
use layout::std_shapes::shapes::Element;
use layout::std_shapes::shapes::LineEndKind;
use layout::std_shapes::shapes::ShapeKind;
use layout::topo::layout::VisualGraph;

use super::Chart;
use super::Spot;
use super::Taken;
use super::Waits;

/// The size of letters, in the units of the drawing.
const LETTERS: usize = 14;

pub(super) fn write(chart: &Chart) -> String {
    let mut graph = VisualGraph::new(Orientation::TopToBottom);
    let handles: Vec<_> = chart
        .spots
        .iter()
        .map(|spot| graph.add_node(element(spot)))
        .collect();
    for way in &chart.ways {
        // The library draws dotted lines as dashed ones, so those are told apart by their words and their grey.
        let (style, width, colour, label) = match way.when {
            Taken::Onward => (LineStyleKind::Normal, 1, 0x0026_2626, String::new()),
            Taken::Choice => (LineStyleKind::Normal, 2, 0x0026_2626, way.label.clone()),
            Taken::Guard => (LineStyleKind::Dashed, 1, 0x0026_2626, format!("if {}", way.label)),
            Taken::LeftOut => (LineStyleKind::Dotted, 1, 0x0080_8080, "left out".to_owned()),
        };
        let look = look(colour, width, 0x00ff_ffff, 0);
        let arrow = Arrow::new(
            LineEndKind::None,
            LineEndKind::Arrow,
            style,
            &label,
            &look,
            &None,
            &None,
        );
        graph.add_edge(arrow, handles[way.from], handles[way.to]);
    }
    let mut drawing = SVGWriter::new();
    graph.do_it(false, false, false, &mut drawing);
    drawing.finalize()
}

fn element(spot: &Spot) -> Element {
    let label = spot.lines().join("\n");
    let width = if spot.effects.is_empty() { 1 } else { 3 };
    let (fill, rounded) = match spot.waits {
        Waits::Nothing => (0x00ff_ffff, 0),
        Waits::Press => (0x00ee_eeee, 0),
        Waits::Words => (0x00e3_eefa, 10),
        Waits::Entry => (0x00cf_e3f5, 10),
        Waits::Choose => (0x00fa_ecc8, 0),
        Waits::Pick => (0x00e6_f2d5, 0),
        Waits::Number => (0x00ef_e2f5, 10),
        Waits::Deliberate => (0x00f7_dcd7, 0),
    };
    let shape = if spot.ends {
        ShapeKind::DoubleCircle(label.clone())
    } else {
        ShapeKind::Box(label.clone())
    };
    let longest = label.lines().map(|line| line.chars().count()).max().unwrap_or(1);
    let size = Point::new(
        (longest * LETTERS) as f64,
        (label.lines().count() * LETTERS + LETTERS) as f64,
    );
    Element::create(
        shape,
        look(0x0026_2626, width, fill, rounded),
        Orientation::TopToBottom,
        size,
    )
}

fn look(line: u32, width: usize, fill: u32, rounded: usize) -> StyleAttr {
    // The library takes colours as red, green, blue and opacity.
    let solid = |colour: u32| Color::new(colour << 8 | 0xff);
    StyleAttr::new(solid(line), width, Some(solid(fill)), rounded, LETTERS)
}
