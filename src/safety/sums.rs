//! Sums of weights over some sentences, from which the sum of every run of their words is had in a few steps.

use std::ops::AddAssign;
use std::ops::Range;
use std::ops::SubAssign;

use serde::Deserialize;
use serde::Serialize;

/// A sum of weights for a pause, and of those for a stop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub(super) struct Sum(pub f32, pub f32);

impl AddAssign for Sum {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
        self.1 += other.1;
    }
}

impl SubAssign for Sum {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
        self.1 -= other.1;
    }
}

/// What the phrases inside some sentences weigh: for each word those that begin with it and end up to three words further,
/// all of them added up from the front, and the most for a pause that is to be had from them.
#[derive(Debug, Default)]
pub(super) struct Sums {
    reach: Vec<[Sum; 4]>,
    whole: Vec<Sum>,
    most: Vec<f32>,
}

impl Sums {
    /// Begins anew, with nothing added up.
    pub(super) fn clear(&mut self) {
        self.reach.clear();
        self.whole.clear();
        self.whole.push(Sum::default());
        self.most.clear();
        self.most.push(0.0);
    }

    /// Adds the next word, by how many words further its phrases may end.
    pub(super) fn push(&mut self, reach: [Sum; 4]) {
        let mut whole = self.whole.last().copied().unwrap_or_default();
        whole += reach[3];
        self.whole.push(whole);
        let most = reach.iter().fold(0.0, |most: f32, sum| most.max(sum.0));
        self.most
            .push(self.most.last().copied().unwrap_or_default() + most);
        self.reach.push(reach);
    }

    /// What the phrases inside a run weigh; those that end beyond it are left out.
    pub(super) fn within(&self, run: &Range<usize>) -> Sum {
        let tail = run.start.max(run.end.saturating_sub(3));
        let mut sum = self.whole[tail];
        sum -= self.whole[run.start];
        for place in tail..run.end {
            sum += self.reach[place][run.end - 1 - place];
        }
        sum
    }

    /// The most for a pause that any run of some words has from the phrases inside it.
    pub(super) fn most(&self, words: &Range<usize>) -> f32 {
        self.most[words.end] - self.most[words.start]
    }
}
