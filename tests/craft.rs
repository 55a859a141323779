//! Scripts as a craft: the checker's words, the wording checks, drawings, dry runs, the shipped variants, and the form
//! that is published for editors.

#[path = "craft/faults.rs"]
mod faults;
#[path = "craft/grade.rs"]
mod grade;
#[path = "craft/languages.rs"]
mod languages;
#[path = "craft/program.rs"]
mod program;
#[path = "craft/pseudo.rs"]
mod pseudo;
#[path = "craft/schema.rs"]
mod schema;
