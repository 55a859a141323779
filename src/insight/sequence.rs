//! What followed what: counts, and where there are enough of them, which counts stand out.

use serde::Serialize;

use crate::insight::places::Places;
use crate::map::EntryId;
use crate::map::Moment;
use crate::map::Way;

/// Every expected count must reach this before residuals are given.
pub const LEAST_EXPECTED: f64 = 5.0;

/// A residual this far from 0 stands out. In a table of many cells two would come up by luck now and then; three seldom.
/// Source: A. Agresti, Categorical Data Analysis (2013), section 3.3, from memory.
pub const STANDS_OUT: f64 = 3.0;

/// How many moments went each way, as the person judged them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Ways {
    /// All of them.
    pub moments: u64,
    /// Toward what matters.
    pub toward: u64,
    /// Away from what showed up.
    pub away: u64,
    /// Some of each.
    pub both: u64,
    /// The person was not sure.
    pub not_sure: u64,
}

impl Ways {
    /// Counts one more.
    pub(in crate::insight) fn add(&mut self, way: Way) {
        self.moments += 1;
        match way {
            Way::Toward => self.toward += 1,
            Way::Away => self.away += 1,
            Way::Both => self.both += 1,
            Way::NotSure => self.not_sure += 1,
        }
    }
}

/// One thing that was done after a hook showed up.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Did {
    /// The move.
    pub entry: EntryId,
    /// In how many moments.
    pub times: u64,
    /// How far the count stands out from what would be there if hooks and moves had nothing to do with each other, in
    /// standard deviations. Only where every expected count of the whole table is [`LEAST_EXPECTED`] or more.
    pub residual: Option<f64>,
}

impl Did {
    /// Whether the move was done more often (true) or less often (false) after this hook than after the others, by so
    /// much that it stands out; nothing when it does not, or when the counts are too few to tell.
    #[must_use]
    pub fn stands_out(&self) -> Option<bool> {
        let residual = self.residual.filter(|residual| residual.abs() >= STANDS_OUT)?;
        Some(residual > 0.0)
    }
}

/// What followed one hook.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Followed {
    /// The inner entry that showed up.
    pub hook: EntryId,
    /// Which way the moments with it went.
    pub ways: Ways,
    /// What was done in them, the most often done first; of equals, the one that came up first.
    pub did: Vec<Did>,
}

/// What followed each hook, over the moments given; the hook that showed up most often first, of equals the one that
/// came up first. A moment counts once for each different hook in it, and there once for each different move. The
/// table for the residuals has a row for each hook and a column for each move, and counts such pairs.
#[must_use]
pub fn followed<'m>(moments: impl IntoIterator<Item = &'m Moment>) -> Vec<Followed> {
    let [mut hooks, mut moves] = [Places::default(), Places::default()];
    let [mut showed_up, mut did] = [Vec::new(), Vec::new()];
    let mut following = Following::default();
    for moment in moments {
        hooks.number(&moment.showed_up, &mut showed_up);
        moves.number(&moment.did, &mut did);
        following.add(moment.way, &showed_up, &did);
    }
    following.finish(&hooks, &moves)
}

/// What followed what, as it is counted moment by moment. Hooks and moves go by numbers.
#[derive(Default)]
pub(in crate::insight) struct Following {
    ways: Vec<Ways>,
    table: Vec<Vec<u64>>,
}

impl Following {
    /// Counts one moment, with the different hooks and the different moves in it.
    pub(in crate::insight) fn add(&mut self, way: Way, showed_up: &[usize], did: &[usize]) {
        for &hook in showed_up {
            if self.ways.len() <= hook {
                self.ways.resize(hook + 1, Ways::default());
                self.table.resize(hook + 1, Vec::new());
            }
            self.ways[hook].add(way);
            let counts = &mut self.table[hook];
            for &column in did {
                if counts.len() <= column {
                    counts.resize(column + 1, 0);
                }
                counts[column] += 1;
            }
        }
    }

    /// Everything that was counted, in the order of [`followed`].
    pub(in crate::insight) fn finish(mut self, hooks: &Places, moves: &Places) -> Vec<Followed> {
        for row in &mut self.table {
            row.resize(moves.entries().len(), 0);
        }
        let residuals = residuals_where_used(&self.table);
        let rows = hooks.entries().iter().zip(self.ways).zip(&self.table).enumerate();
        let mut all: Vec<Followed> = rows
            .map(|(row, ((&hook, ways), counts))| {
                let columns = moves.entries().iter().zip(counts).enumerate();
                let mut did: Vec<Did> = columns
                    .filter(|(_, (_, times))| **times > 0)
                    .map(|(column, (&entry, &times))| Did {
                        entry,
                        times,
                        residual: residuals.as_ref().and_then(|residuals| residuals[row][column]),
                    })
                    .collect();
                did.sort_by_key(|did| std::cmp::Reverse(did.times));
                Followed { hook, ways, did }
            })
            .collect();
        all.sort_by_key(|followed| std::cmp::Reverse(followed.ways.moments));
        all
    }
}

/// The residuals of the rows and columns that hold any count at all; the others say nothing about a relation.
fn residuals_where_used(table: &[Vec<u64>]) -> Option<Vec<Vec<Option<f64>>>> {
    let width = table.first()?.len();
    let columns: Vec<usize> = (0..width)
        .filter(|&c| table.iter().any(|row| row[c] > 0))
        .collect();
    let rows: Vec<usize> = (0..table.len())
        .filter(|&r| table[r].iter().any(|&count| count > 0))
        .collect();
    let used: Vec<Vec<u64>> = rows
        .iter()
        .map(|&r| columns.iter().map(|&c| table[r][c]).collect())
        .collect();
    let residuals = adjusted_residuals(&used)?;
    let mut all = vec![vec![None; width]; table.len()];
    for (&r, row) in rows.iter().zip(residuals) {
        for (&c, residual) in columns.iter().zip(row) {
            all[r][c] = Some(residual);
        }
    }
    Some(all)
}

/// The adjusted residual of each cell of a table of counts: (observed - expected) / sqrt(expected (1 - row share) (1 -
/// column share)), about normal with mean 0 and deviation 1 if rows and columns were unrelated. `None` unless the
/// table has two rows and two columns, all rows of one length, and every expected count is [`LEAST_EXPECTED`] or more.
///
/// Source: S. J. Haberman, Biometrics 29 (1973) 205-220; for sequences: R. Bakeman and V. Quera, Sequential Analysis and
/// Observational Methods for the Behavioral Sciences (2011).
#[must_use]
pub fn adjusted_residuals(table: &[Vec<u64>]) -> Option<Vec<Vec<f64>>> {
    let width = table.first()?.len();
    if table.len() < 2 || width < 2 || table.iter().any(|row| row.len() != width) {
        return None;
    }
    let rows: Vec<f64> = table.iter().map(|row| row.iter().sum::<u64>() as f64).collect();
    let columns: Vec<f64> = (0..width)
        .map(|column| table.iter().map(|row| row[column]).sum::<u64>() as f64)
        .collect();
    let all: f64 = rows.iter().sum();
    let mut residuals = Vec::with_capacity(table.len());
    for (row, row_sum) in table.iter().zip(&rows) {
        let mut line = Vec::with_capacity(width);
        for (&observed, column_sum) in row.iter().zip(&columns) {
            let expected = row_sum * column_sum / all;
            if expected.is_nan() || expected < LEAST_EXPECTED {
                return None;
            }
            let spread = (expected * (1.0 - row_sum / all) * (1.0 - column_sum / all)).sqrt();
            line.push((observed as f64 - expected) / spread);
        }
        residuals.push(line);
    }
    Some(residuals)
}
