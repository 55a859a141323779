//! Two pieces of work beside each other.

use std::panic;
use std::thread;

/// Does both, the second on a thread of its own where one can be had. A panic in either goes on here.
pub(super) fn both<A, B: Send>(one: impl FnOnce() -> A, other: impl Fn() -> B + Sync) -> (A, B) {
    thread::scope(|scope| {
        let beside = thread::Builder::new().spawn_scoped(scope, &other);
        let first = one();
        let second = match beside {
            Ok(beside) => beside
                .join()
                .unwrap_or_else(|payload| panic::resume_unwind(payload)),
            Err(_) => other(),
        };
        (first, second)
    })
}
