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
    let once = start.elapsed().max(Duration::from_millis(1));
    let times = Duration::from_millis(500).as_micros() / once.as_micros();
    let passes = u32::try_from(times).unwrap_or(1).clamp(1, 4) * Cost::STANDARD.passes;
    Ok(Cost {
        passes,
        ..Cost::STANDARD
    })
}
