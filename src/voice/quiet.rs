//! Sound libraries write lines of their own to standard error. While one of them is busy, descriptor 2 points at
//! nothing, so that those lines never reach a person's terminal.

/// Standard error is silent for as long as any of these lives; several may overlap.
pub(super) struct Quiet(());

#[cfg(unix)]
static HELD: std::sync::Mutex<Held> = std::sync::Mutex::new(Held {
    count: 0,
    before: None,
});

#[cfg(unix)]
struct Held {
    count: usize,
    before: Option<std::os::fd::OwnedFd>,
}

impl Quiet {
    /// Points descriptor 2 at nothing. If the system refuses, the lines show; nothing else is lost.
    #[cfg(unix)]
    pub(super) fn hush() -> Self {
        let mut held = HELD.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        held.count += 1;
        if held.count == 1
            && let Ok(nothing) = std::fs::File::options().write(true).open("/dev/null")
            && let Ok(before) = rustix::io::fcntl_dupfd_cloexec(rustix::stdio::stderr(), 3)
            && rustix::stdio::dup2_stderr(&nothing).is_ok()
        {
            held.before = Some(before);
        }
        Self(())
    }

    /// Other platforms' sound libraries keep to themselves.
    #[cfg(not(unix))]
    pub(super) fn hush() -> Self {
        Self(())
    }
}

#[cfg(unix)]
impl Drop for Quiet {
    fn drop(&mut self) {
        let mut held = HELD.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        held.count -= 1;
        if held.count == 0
            && let Some(before) = held.before.take()
        {
            // If this fails standard error stays silent; there is no place left to say so.
            let _ = rustix::stdio::dup2_stderr(&before);
        }
    }
}
