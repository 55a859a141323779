//! What the platform can do to keep the program's memory from reaching a disk: no core files, no reading by other
//! programs of the same person, and no swapping where the limit on locked memory allows it.

/// What was achieved.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Guarded {
    /// A crash leaves no core file.
    pub no_core_file: bool,
    /// The kernel neither dumps the program's memory nor lets the person's other programs read it.
    pub not_readable: bool,
    /// Memory is not written to swap.
    pub not_swapped: bool,
}

/// Turns on what the platform allows. To be called first, before any key is in memory.
#[must_use]
pub fn guard_memory() -> Guarded {
    let mut guarded = Guarded::default();
    #[cfg(unix)]
    {
        use rustix::process::Resource;
        use rustix::process::Rlimit;
        use rustix::process::getrlimit;
        use rustix::process::setrlimit;
        let none = Rlimit {
            current: Some(0),
            maximum: Some(0),
        };
        guarded.no_core_file = setrlimit(Resource::Core, none).is_ok();
        #[cfg(any(target_os = "linux", target_os = "android"))]
        {
            use rustix::mm::MlockAllFlags;
            use rustix::mm::mlockall;
            use rustix::process::DumpableBehavior;
            use rustix::process::set_dumpable_behavior;
            guarded.not_readable = set_dumpable_behavior(DumpableBehavior::NotDumpable).is_ok();
            // Under a limit, locking all memory would make later requests for memory fail, so it is all or nothing.
            if getrlimit(Resource::Memlock).current.is_none() {
                let flags = MlockAllFlags::CURRENT | MlockAllFlags::FUTURE | MlockAllFlags::ONFAULT;
                guarded.not_swapped = mlockall(flags).is_ok();
            }
        }
    }
    guarded
}
