//! Reads and links the shipped knowledge when the program is built, so that no start has to.
//!
//! The program's own modules do it, taken in here as they are. Embedded are the texts, for messages that show a line; each
//! file as MessagePack, for a start with local rules, which links anew; and the linked model, packed. So is the table of salt mixes that bounds the
//! strength of a feed. Files that cannot be
//! linked are no reason to stop: the program then reads them at its start and says what is wrong and where, as
//! `knowledge check` does. A test compares all three ways.

use std::error::Error;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs};

/// Modules of the program. What the build leaves unused, the program uses; there, unused code is reported.
macro_rules! of_the_program {
    ($($path:literal $name:ident),+ $(,)?) => {$(
        #[path = $path]
        #[allow(
            dead_code,
            unused_imports,
            unreachable_pub,
            clippy::all,
            reason = "the program uses what the build does not, and is looked through there"
        )]
        mod $name;
    )+};
}

of_the_program![
    "src/chemistry/mod.rs" chemistry,
    "src/diagnose/mod.rs" diagnose,
    "src/dose/ids.rs" dose,
    "src/facts/mod.rs" facts,
    "src/knowledge/mod.rs" knowledge,
    "src/packed/mod.rs" packed,
    "src/quantity/mod.rs" quantity,
    "src/reading/mod.rs" reading,
    "src/walk/mod.rs" walk,
];

/// What the program has embedded, and the build has not yet.
mod embedded {
    pub(crate) struct Shipped {
        pub(crate) name: &'static str,
        pub(crate) text: &'static str,
        pub(crate) data: &'static [u8],
    }
    pub(crate) const SHIPPED: &[Shipped] = &[];
    pub(crate) const MODEL: &[u8] = &[];
    pub(crate) const MODEL_TEXTS: &str = "";
    pub(crate) const VERSION: &str = "";
    pub(crate) const CORNERS: [&[[u8; 4]]; 3] = [&[]; 3];
}

use knowledge::{File, Files, Knowledge};
use packed::{Packed, Reader, Writer};

fn main() -> Result<(), Box<dyn Error>> {
    let root = PathBuf::from(env::var("CARGO_MANIFEST_DIR")?).join("knowledge");
    let out = PathBuf::from(env::var("OUT_DIR")?);
    println!("cargo:rerun-if-changed=knowledge");
    let mut names = Vec::new();
    list(&root, "", &mut names)?;
    names.sort();
    let mut table = String::from("pub(crate) const SHIPPED: &[Shipped] = &[\n");
    let mut files = Files {
        files: Vec::new(),
        origin: "shipped".to_owned(),
    };
    for (at, name) in names.iter().enumerate() {
        let path = root.join(name);
        println!("cargo:rerun-if-changed=knowledge/{name}");
        let text = fs::read_to_string(&path)?;
        let tree: serde_yaml::Value =
            serde_yaml::from_str(&text).map_err(|e| format!("knowledge/{name}: {e}"))?;
        let data = out.join(format!("{at}.msgpack"));
        fs::write(&data, rmp_serde::to_vec(&tree)?)?;
        writeln!(
            table,
            "    Shipped {{ name: {name:?}, text: include_str!({path:?}), data: include_bytes!({data:?}) }},"
        )?;
        files.files.push(File {
            name: name.clone(),
            text: text.into(),
        });
    }
    table.push_str("];\n");
    let (model, texts) = model(&files)?;
    let (at, texts_at) = (out.join("model"), out.join("model.txt"));
    fs::write(&at, model)?;
    fs::write(&texts_at, texts)?;
    writeln!(
        table,
        "pub(crate) const MODEL: &[u8] = include_bytes!({at:?});"
    )?;
    writeln!(
        table,
        "pub(crate) const MODEL_TEXTS: &str = include_str!({texts_at:?});"
    )?;
    let [strongest, after_urea, weakest] = chemistry::corners::tables();
    writeln!(
        table,
        "pub(crate) const CORNERS: [&[[u8; 4]]; 3] = [&{strongest:?}, &{after_urea:?}, &{weakest:?}];"
    )?;
    fs::write(out.join("shipped.rs"), table)?;
    println!("cargo:rustc-env=TUBGROVE_KNOWLEDGE={}", files.version());
    Ok(())
}

/// The linked model, packed; nothing where the files cannot be linked.
fn model(files: &Files) -> Result<(Vec<u8>, String), Box<dyn Error>> {
    let linked = match knowledge::load(files, &[]) {
        Ok(linked) => linked,
        Err(problems) => {
            for problem in problems.list() {
                println!(
                    "cargo:warning={}:{}: {}",
                    problem.file, problem.line, problem.what
                );
            }
            return Ok(Default::default());
        }
    };
    let mut out = Writer::default();
    linked.pack(&mut out);
    let (model, texts) = out.finish();
    // What was packed is read back whole, so that no start can find it broken.
    let read = Knowledge::unpack(&mut Reader::new(model.clone().leak(), texts.clone().leak()))
        .ok_or("the packed model cannot be read back")?;
    if format!("{read:?}") != format!("{linked:?}") {
        return Err("the packed model is read back as another".into());
    }
    Ok((model, texts))
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
