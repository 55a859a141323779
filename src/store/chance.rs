//! What the store takes from the machine beside its disk: randomness, and how fast it derives a key.

use std::time::Duration;
use std::time::Instant;

use zeroize::Zeroizing;

use crate::store::Cost;
use crate::store::StoreError;
use crate::store::keys;
use crate::store::keys::Salts;
use crate::store::seal::KEY;

/// Fills bytes from the operating system's source.
pub(crate) fn fill(bytes: &mut [u8]) -> Result<(), StoreError> {
    getrandom::fill(bytes).map_err(|_| StoreError::NoRandomness)
}

/// As many random bytes as asked for.
pub(crate) fn random<const N: usize>() -> Result<[u8; N], StoreError> {
    let mut bytes = [0; N];
    fill(&mut bytes)?;
    Ok(bytes)
}

/// What must be random in key material.
pub(crate) fn salts() -> Result<Salts, StoreError> {
    let mut plain_key = Zeroizing::new([0; KEY]);
    fill(plain_key.as_mut_slice())?;
    Ok(Salts {
        salt: random()?,
        plain_key,
        nonce: random()?,
    })
}

/// The work that takes about half a second on this machine, never less than the standard, and at most four times it.
pub(crate) fn calibrate() -> Result<Cost, StoreError> {
    let start = Instant::now();
    keys::derive(b"", &[0; 16], Cost::STANDARD)?;
    Ok(worth(start.elapsed()))
}

/// The work that takes about half a second where the standard takes this long.
fn worth(once: Duration) -> Cost {
    let once = once.max(Duration::from_millis(1));
    let times = Duration::from_millis(500).as_micros() / once.as_micros();
    let passes = u32::try_from(times).unwrap_or(1).clamp(1, 4) * Cost::STANDARD.passes;
    Cost {
        passes,
        ..Cost::STANDARD
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_a_second_of_work_is_never_below_the_standard_nor_above_four_times_it() {
        for (once, times) in [
            (0, 4),
            (50, 4),
            (125, 4),
            (126, 3),
            (200, 2),
            (251, 1),
            (600, 1),
            (9_000, 1),
        ] {
            let cost = Cost {
                passes: times * Cost::STANDARD.passes,
                ..Cost::STANDARD
            };
            assert_eq!(worth(Duration::from_millis(once)), cost, "{once} ms");
            assert!(cost.is_bounded());
        }
    }
}
