//! Leaving out what the page does not need: unused entries of the module, long names,
//! comments and indentation.

use walrus::Module;

/// Entries that a dependency offers to scripts for streams, which nothing here makes.
const UNUSED: [&str; 2] = ["intounderlying", "__wbg_intounderlying"];

/// Takes unused entries out of the module and gives what it exchanges with the glue short names.
///
/// The names end in a checksum each, which no packer can squeeze.
pub fn module(module: &mut Module, glue: &mut String) {
    let unused: Vec<_> = module
        .exports
        .iter()
        .filter(|export| UNUSED.iter().any(|start| export.name.starts_with(start)))
        .map(|export| export.id())
        .collect();
    for export in unused {
        module.exports.delete(export);
    }
    walrus::passes::gc::run(module);

    let imports = module.imports.iter_mut().map(|import| &mut import.name);
    let exports = module.exports.iter_mut().map(|export| &mut export.name);
    let mut names: Vec<&mut String> = imports.chain(exports).filter(|name| has_checksum(name)).collect();
    // One name may be the beginning of another.
    names.sort_by(|one, other| other.len().cmp(&one.len()).then_with(|| one.cmp(other)));
    for (number, name) in names.into_iter().enumerate() {
        let short = format!("${number}");
        *glue = glue.replace(name.as_str(), &short);
        *name = short;
    }
}

/// Whether a name holds sixteen hexadecimal figures in a row.
fn has_checksum(name: &str) -> bool {
    name.as_bytes().windows(16).any(|part| part.iter().all(|c| matches!(c, b'0'..=b'9' | b'a'..=b'f')))
}

/// A script without comments on lines of their own and without indentation. Lines stay lines,
/// so that no statement runs into the next; texts over several lines stay as they are.
pub fn script(text: &str) -> String {
    let mut slim = String::with_capacity(text.len());
    let (mut in_comment, mut in_text) = (false, false);
    for line in text.lines() {
        let bare = line.trim();
        if !in_text {
            // A comment with a statement behind it stays.
            in_comment |= bare.starts_with("/*") && bare.find("*/").is_none_or(|end| end + 2 == bare.len());
            if in_comment {
                in_comment = !bare.ends_with("*/");
                continue;
            }
            if bare.is_empty() || bare.starts_with("//") {
                continue;
            }
        }
        let was_in_text = in_text;
        in_text ^= line.matches('`').count() % 2 == 1;
        slim.push_str(match (was_in_text, in_text) {
            (false, false) => bare,
            (false, true) => line.trim_start(),
            _ => line,
        });
        slim.push('\n');
    }
    slim
}

/// A style sheet without comments, indentation and empty lines.
pub fn style(text: &str) -> String {
    let mut bare = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, comment)) = rest.split_once("/*") {
        bare.push_str(before);
        rest = comment.split_once("*/").map_or("", |(_, after)| after);
    }
    bare.push_str(rest);
    let lines = bare.lines().map(str::trim).filter(|line| !line.is_empty());
    lines.collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_script_keeps_its_statements_and_texts() {
        let text = "  /** says\n   * much */\n  // more\n\n    a = 1; // stays\n    b = `x\n   // text\n  y`;\n  /* so */ c()\n";
        assert_eq!(script(text), "a = 1; // stays\nb = `x\n   // text\n  y`;\n/* so */ c()\n");
    }

    #[test]
    fn a_style_sheet_keeps_its_rules() {
        assert_eq!(style("/* a\n b */\np {\n  margin: 0;\n\n}\n/* end"), "p {\nmargin: 0;\n}");
    }

    #[test]
    fn names_are_short_in_the_module_and_in_the_glue() {
        let mut made = Module::default();
        let kind = made.types.add(&[], &[]);
        made.add_import_func("wbg", "__wbg_open_0123456789abcdef", kind);
        let (function, _) = made.add_import_func("wbg", "__wbg_shut_0123456789abcdee", kind);
        for name in ["invoke_h0123456789abcdef", "invoke_h0123456789abcdef_15", "start", "intounderlyingsink_close"] {
            made.exports.add(name, function);
        }
        let mut glue =
            "{__wbg_shut_0123456789abcdee: s, x: w.invoke_h0123456789abcdef_15(w.invoke_h0123456789abcdef)}".to_owned();
        module(&mut made, &mut glue);
        assert_eq!(glue, "{$0: s, x: w.$1(w.$2)}");
        let mut names: Vec<_> = made.exports.iter().map(|export| export.name.as_str()).collect();
        names.sort_unstable();
        assert_eq!(names, ["$1", "$2", "start"]);
        assert_eq!(made.imports.iter().map(|import| import.name.as_str()).collect::<Vec<_>>(), ["$0"]);
    }
}
