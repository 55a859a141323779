//! Scripts as a craft: the checker's words, the wording checks, drawings, dry runs, the shipped variants, and the form
//! that is published for editors.

#[path = "craft/grade.rs"]
mod grade;
#[path = "craft/faults.rs"]
mod faults;
