//! `build`: compiles the page to WebAssembly and packs it into one file.

use std::fs;
use std::path::{Path, PathBuf};

use wasm_bindgen_cli_support::Bindgen;

use crate::{needs, pack, shell, slim};

const WASM: &str = "wasm32-unknown-unknown";

/// Writes `dist/sisterframe.html`, prints its size and gives its path.
pub fn run() -> Result<PathBuf, String> {
    needs::wasm_target()?;
    let root = shell::root();
    let (glue, module) = bind(&compile()?)?;
    let page = pack::page(&pack::Parts {
        template: &read(&root.join("index.html"))?,
        style: &slim::style(&style(&root.join("style"))?),
        glue: &slim::script(&format!("{glue}\n{}\n{}", include_str!("unpack.js"), include_str!("start.js"))),
        module: &module,
    })?;

    let dist = root.join("dist");
    let path = dist.join("sisterframe.html");
    fs::create_dir_all(&dist).map_err(|e| format!("{}: {e}", dist.display()))?;
    fs::write(&path, &page).map_err(|e| format!("{}: {e}", path.display()))?;

    let size = pack::Size::of(&page);
    println!("{}: {size}", path.display());
    size.check()?;
    Ok(path)
}

/// Compiles the app and gives the module's path.
fn compile() -> Result<PathBuf, String> {
    // The module alone: where a library for other crates is made with it, nothing is optimised across crates.
    let what = ["rustc", "--package", "sisterframe-app", "--lib", "--crate-type", "cdylib"];
    let mut cargo = shell::cargo(&[&what[..], &["--profile", "page", "--target", WASM]].concat());
    // Panic messages name source files: without this the page would carry the paths of the machine that built it.
    let mut flags = Vec::new();
    for (from, to) in private_paths() {
        flags.push(format!("--remap-path-prefix={}={to}", from.display()));
    }
    // Views of one type instead of one type for every view: smaller, and quicker to compile.
    flags.push("--cfg=erase_components".to_owned());
    cargo.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", flags.join(" "));
    shell::run(cargo)?;
    Ok(shell::target()?.join(WASM).join("page").join("sisterframe_app.wasm"))
}

/// Folders of this machine that must not be named in the page, each with what to write instead.
fn private_paths() -> Vec<(PathBuf, &'static str)> {
    let mut paths = vec![(shell::root(), "sisterframe")];
    let home = std::env::home_dir();
    if let Some(cargo_home) =
        std::env::var_os("CARGO_HOME").map(PathBuf::from).or_else(|| home.map(|home| home.join(".cargo")))
    {
        paths.push((cargo_home, "cargo"));
    }
    paths
}

/// Makes the JavaScript glue and the module it goes with.
fn bind(wasm: &Path) -> Result<(String, Vec<u8>), String> {
    let mut bindgen = Bindgen::new();
    let mut output = bindgen
        .input_path(wasm)
        .no_modules(true)
        .map_err(|e| format!("{e:#}"))?
        .typescript(false)
        .omit_default_module_path(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate_output()
        .map_err(|e| format!("binding the module: {e:#}"))?;
    if output.snippets().values().any(|texts| !texts.is_empty()) || !output.local_modules().is_empty() {
        return Err("a dependency brings JavaScript files of its own, which the one file cannot hold".to_string());
    }
    let mut glue = output.js().to_owned();
    slim::module(output.wasm_mut(), &mut glue);
    let module = output.wasm_mut().emit_wasm();
    for (path, _) in private_paths() {
        let path = path.to_string_lossy();
        if module.windows(path.len()).any(|w| w == path.as_bytes()) {
            return Err(format!("the module names {path}, a folder of this machine"));
        }
    }
    Ok((glue, module))
}

/// All style sheets as one: palette and base first, then the others by name, print last.
fn style(folder: &Path) -> Result<String, String> {
    let entries = fs::read_dir(folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let mut sheets: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|e| e == "css"))
        .collect();
    sheets.sort_by_key(|path| {
        let name = path.file_stem().unwrap_or_default().to_owned();
        let rank = match name.to_str() {
            Some("palette") => 0,
            Some("base") => 1,
            Some("print") => 3,
            _ => 2,
        };
        (rank, name)
    });
    sheets.iter().map(|path| read(path)).collect()
}

fn read(path: &Path) -> Result<String, String> {
    fs::read_to_string(path).map_err(|e| format!("{}: {e}", path.display()))
}
