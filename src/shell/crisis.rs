//! The crisis page and the numbers of a safety message. It needs no store, no passphrase and no model.
