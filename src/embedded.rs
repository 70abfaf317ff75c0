//! What `build.rs` puts into the program: the texts of the knowledge, each file in compact form, and the linked model.
//!
//! The build takes the modules that link the knowledge into itself; there, a module of this name holds nothing.

/// A file inside the program.
pub(crate) struct Shipped {
    /// Name relative to the knowledge directory.
    pub(crate) name: &'static str,
    /// The YAML text.
    pub(crate) text: &'static str,
    /// The same content in MessagePack.
    pub(crate) data: &'static [u8],
}

// SHIPPED, the files by name; MODEL and MODEL_TEXTS, the packed model, empty where the files cannot be linked; CORNERS, the
// salt mixes that bound the strength of a feed.
include!(concat!(env!("OUT_DIR"), "/shipped.rs"));

/// Version of the knowledge that ships with the program.
pub(crate) const VERSION: &str = env!("TUBGROVE_KNOWLEDGE");
