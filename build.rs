//! Reads the shipped knowledge when the program is built and embeds it in a compact form, so that no start has to read YAML.
//!
//! The form is MessagePack, which tells its own structure: the same plain structures are read from it as from YAML. A test
//! reads both and compares. The texts are embedded too, for messages that show a line.

use std::error::Error;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

fn main() -> Result<(), Box<dyn Error>> {
    let root = PathBuf::from(env::var("CARGO_MANIFEST_DIR")?).join("knowledge");
    let out = PathBuf::from(env::var("OUT_DIR")?);
    println!("cargo:rerun-if-changed=knowledge");
    let mut names = Vec::new();
    list(&root, "", &mut names)?;
    names.sort();
    let mut table = String::from("pub(super) const SHIPPED: &[Shipped] = &[\n");
    let mut version = Fingerprint::default();
    for (at, name) in names.iter().enumerate() {
        let path = root.join(name);
        println!("cargo:rerun-if-changed=knowledge/{name}");
        let text = fs::read_to_string(&path)?;
        version.add(name, &text);
        let tree: serde_yaml::Value =
            serde_yaml::from_str(&text).map_err(|e| format!("knowledge/{name}: {e}"))?;
        let data = out.join(format!("{at}.msgpack"));
        fs::write(&data, rmp_serde::to_vec(&tree)?)?;
        writeln!(
            table,
            "    Shipped {{ name: {name:?}, text: include_str!({path:?}), data: include_bytes!({data:?}) }},"
        )?;
    }
    table.push_str("];\n");
    fs::write(out.join("shipped.rs"), table)?;
    println!("cargo:rustc-env=TUBGROVE_KNOWLEDGE={}", version.show());
    Ok(())
}

/// The YAML files of a directory and of the directories in it, by name relative to the root.
fn list(dir: &Path, prefix: &str, names: &mut Vec<String>) -> Result<(), Box<dyn Error>> {
    for entry in fs::read_dir(dir)? {
        let entry = entry?;
        let name = format!("{prefix}{}", entry.file_name().to_string_lossy());
        if entry.path().is_dir() {
            list(&entry.path(), &format!("{name}/"), names)?;
        } else if name.ends_with(".yaml") {
            names.push(name);
        }
    }
    Ok(())
}

/// The version of the knowledge, worked out as `Files::version` does; a test compares the two.
struct Fingerprint(u64);

impl Default for Fingerprint {
    fn default() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }
}

impl Fingerprint {
    fn add(&mut self, name: &str, text: &str) {
        for byte in name.bytes().chain([0]).chain(text.bytes()) {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }

    fn show(&self) -> String {
        format!("{:016x}", self.0).chars().take(12).collect()
    }
}
