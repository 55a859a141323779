//! Numbers in blocks of 32 with one scale each (ggml's `q8_0`): half the room of f16, and faster to compute with.

use half::f16;

/// Numbers in a block.
pub(super) const BLOCK: usize = 32;

/// Bytes of a block: the scale as f16, and 32 whole numbers.
pub(super) const BLOCK_BYTES: usize = 2 + BLOCK;

/// Appends the blocks of these numbers, exactly as ggml's own reference does: scale = largest / 127, rounded to f16
/// only after its inverse was taken; halves round away from zero. A last part under 32 numbers is not written.
pub fn quantise(numbers: &[f32], out: &mut Vec<u8>) {
    for block in numbers.chunks_exact(BLOCK) {
        let largest = block.iter().fold(0.0_f32, |most, number| most.max(number.abs()));
        let scale = largest / 127.0;
        let inverse = if scale == 0.0 { 0.0 } else { 1.0 / scale };
        out.extend_from_slice(&f16::from_f32(scale).to_le_bytes());
        // Within -127..=127 for finite numbers; the cast saturates for any other.
        #[expect(clippy::cast_possible_truncation, reason = "the cast saturates")]
        out.extend(
            block
                .iter()
                .map(|number| ((number * inverse).round() as i8).to_le_bytes()[0]),
        );
    }
}
