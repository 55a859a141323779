//! Loops and small charts in rows of signs, each with its numbers in words.

use crate::page::Bars;
use crate::page::Look;
use crate::page::Pairs;
use crate::page::Ring;
use crate::page::Shares;
use crate::page::back_to_one;
use crate::page::none;
use crate::picture::terminal::Screen;
use crate::picture::terminal::fold::fold;
use crate::picture::terminal::fold::padded;
use crate::picture::terminal::fold::width;
use crate::picture::terminal::ink::Ink;
use crate::picture::terminal::ink::dyed;

/// A loop: its stops below each other, and a line at the left that leads from the last to the first.
pub(in crate::picture::terminal) fn ring(ring: &Ring, screen: &Screen) -> Vec<String> {
    let mut out = heading(&ring.heading, screen);
    let drawn = !screen.plain;
    let [open, pass, end, down] = match (drawn, screen.unicode, ring.closes) {
        (false, ..) => ["", "", "", ""],
        (true, true, true) => ["┌▸ ", "│  ", "└─ ", "│    ▾"],
        (true, false, true) => ["+> ", "|  ", "+- ", "|    v"],
        (true, true, false) => ["   ", "   ", "   ", "     ▾"],
        (true, false, false) => ["   ", "   ", "   ", "     v"],
    };
    let count = ring.stops.len();
    for (at, stop) in ring.stops.iter().enumerate() {
        let text = format!("{}: {}", stop.role, stop.words);
        let room = screen.columns.saturating_sub(width(open) + 3);
        for (row, line) in fold(&text, room).into_iter().enumerate() {
            let edge = match (at, row) {
                (0, 0) => open,
                (last, 0) if last + 1 == count => end,
                (last, _) if last + 1 == count => "   ",
                _ => pass,
            };
            let edge = if drawn { edge } else { "" };
            let number = if row == 0 {
                format!("{:>2} ", at + 1)
            } else {
                "   ".to_owned()
            };
            out.push(format!("{edge}{number}{line}"));
        }
        if drawn && at + 1 < count {
            out.push(dyed(down, Ink::Quiet, screen));
        }
    }
    if ring.closes && !drawn {
        out.push(back_to_one().to_owned());
    }
    for note in &ring.notes {
        out.extend(fold(note, screen.columns));
    }
    out
}

fn heading(words: &str, screen: &Screen) -> Vec<String> {
    if words.is_empty() {
        return Vec::new();
    }
    fold(words, screen.columns)
        .iter()
        .map(|line| dyed(line, Ink::Strong, screen))
        .collect()
}

/// How wide a row's label is: a third of the screen, but no more than the longest.
fn label_width<'l>(labels: impl Iterator<Item = &'l str>, screen: &Screen) -> usize {
    labels
        .map(width)
        .max()
        .unwrap_or(0)
        .min(screen.columns / 3)
        .max(4)
}

/// The lines of a row's label, and the last of them padded, so that drawings begin below each other.
fn label(text: &str, columns: usize) -> (Vec<String>, String) {
    let mut lines = fold(text, columns);
    let last = lines.pop().unwrap_or_default();
    (lines, padded(&last, columns))
}

/// One row: label, drawing, words; the words go below where they find no room. A drawing that does not fit is left out,
/// since the words say the same.
fn row(name: &str, columns: usize, drawing: &str, says: &str, screen: &Screen) -> Vec<String> {
    if screen.plain {
        let mut lines = fold(&format!("{name}: {says}"), screen.columns.saturating_sub(3)).into_iter();
        let first = lines.next().map(|line| format!(" - {line}"));
        return first
            .into_iter()
            .chain(lines.map(|line| format!("   {line}")))
            .collect();
    }
    let (mut out, last) = label(name, columns);
    let line = format!("{last} {drawing}");
    if width(&line) + 1 + width(says) <= screen.columns {
        out.push(format!("{line} {says}"));
    } else {
        let line = if width(line.trim_end()) <= screen.columns {
            line
        } else {
            last
        };
        out.push(line.trim_end().to_owned());
        let indent = " ".repeat(columns + 1);
        out.extend(
            fold(says, screen.columns.saturating_sub(columns + 1))
                .iter()
                .map(|line| format!("{indent}{line}")),
        );
    }
    out
}

/// Counts by row as bars of signs.
pub(in crate::picture::terminal) fn bars(bars: &Bars, screen: &Screen) -> Vec<String> {
    let mut out = heading(&bars.heading, screen);
    let columns = label_width(bars.rows.iter().map(|(label, _)| label.as_str()), screen);
    let most = bars
        .rows
        .iter()
        .map(|(_, counts)| counts.iter().sum::<u32>())
        .max()
        .unwrap_or(0)
        .max(1) as usize;
    let room = screen
        .columns
        .saturating_sub(columns + 2)
        .min(most.max(screen.columns / 4))
        .max(4);
    if !screen.plain {
        let key = bars
            .kinds
            .iter()
            .map(|(kind, look)| format!("{} {kind}", sign(*look, screen)));
        out.extend(fold(&key.collect::<Vec<_>>().join("  "), screen.columns));
    }
    for (name, counts) in &bars.rows {
        let mut drawing = String::new();
        let mut says = Vec::new();
        let (mut sum, mut drawn) = (0, 0);
        for ((kind, look), count) in bars.kinds.iter().zip(counts) {
            sum += *count as usize;
            // One sign each while all fit; otherwise to scale, each edge rounded from the sum so that errors do not
            // add up.
            let upto = if most <= room {
                sum
            } else {
                (sum * room + most / 2) / most
            };
            drawing.push_str(&sign(*look, screen).repeat(upto - drawn));
            drawn = upto;
            if *count > 0 {
                says.push(format!("{count} {kind}"));
            }
        }
        drawing.push_str(&" ".repeat(most.min(room) - drawn));
        let says = if says.is_empty() {
            none().to_owned()
        } else {
            says.join(", ")
        };
        out.extend(row(name, columns, &drawing, &says, screen));
    }
    out
}

fn sign(look: Look, screen: &Screen) -> &'static str {
    match (look, screen.unicode) {
        (Look::Toward, true) => "█",
        (Look::Away, true) => "▒",
        (Look::Plain, true) => "░",
        (Look::Faint, true) => "·",
        (Look::Toward, false) => "#",
        (Look::Away, false) => "/",
        (Look::Plain, false) => "=",
        (Look::Faint, false) => ".",
    }
}

/// Shares as a line from none to all: the interval drawn heavy, the share as a dot.
pub(in crate::picture::terminal) fn shares(shares: &Shares, screen: &Screen) -> Vec<String> {
    let mut out = heading(&shares.heading, screen);
    let columns = label_width(shares.rows.iter().map(|share| share.label.as_str()), screen);
    let (thin, heavy, dot) = if screen.unicode {
        ('─', '━', '●')
    } else {
        ('-', '=', 'o')
    };
    for share in &shares.rows {
        let mut drawing = String::new();
        let here = f64::from(share.count) / f64::from(share.of.max(1));
        for at in 0..=20_u32 {
            let part = f64::from(at) / 20.0;
            drawing.push(match share.interval {
                Some(_) if (part - here).abs() <= 0.025 && !drawing.contains(dot) => dot,
                Some((low, high)) if part >= low - 0.025 && part <= high + 0.025 => heavy,
                _ => thin,
            });
        }
        out.extend(row(&share.label, columns, &drawing, &share.says(), screen));
    }
    out
}

/// Pairs from 0 to 10: the first an open sign, the second a full one.
pub(in crate::picture::terminal) fn pairs(pairs: &Pairs, screen: &Screen) -> Vec<String> {
    let mut out = heading(&pairs.heading, screen);
    let columns = label_width(pairs.rows.iter().map(|(label, ..)| label.as_str()), screen);
    let [thin, first_sign, second_sign, both] = if screen.unicode {
        ['─', '□', '●', '◙']
    } else {
        ['-', 'o', '*', '@']
    };
    if !screen.plain {
        let key = format!("{first_sign} {}  {second_sign} {}", pairs.ends.0, pairs.ends.1);
        out.extend(fold(&key, screen.columns));
    }
    for (name, first, second) in &pairs.rows {
        let drawing: String = (0..=10)
            .flat_map(|value| {
                let sign = match (value == *first, value == *second) {
                    (true, true) => both,
                    (true, false) => first_sign,
                    (false, true) => second_sign,
                    (false, false) => thin,
                };
                [sign, thin]
            })
            .take(21)
            .collect();
        let says = format!("{} {first}, {} {second}", pairs.ends.0, pairs.ends.1);
        out.extend(row(name, columns, &drawing, &says, screen));
    }
    out
}
