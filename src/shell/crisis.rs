//! The crisis page.
use std::process::ExitCode;
use crate::map::Map; use crate::safety::{Level,Topic}; use crate::shell::terminal::Terminal; use crate::shell::trouble::Trouble; use crate::shell::arguments::Arguments;
pub(crate) fn message(_t: &mut Terminal, _m: &Map, _r: Option<&str>, _l: Level, _o: &[Topic]) {}
pub(crate) fn page(_t: &mut Terminal, _m: Option<&Map>, _r: Option<&str>) {}
pub(crate) fn run(_a: &Arguments, _r: Option<&str>, _j: bool) -> Result<ExitCode, Trouble> { Ok(ExitCode::SUCCESS) }
