//! The command line: what is asked for, or what is wrong with how it was asked.

use std::ffi::OsString;
use std::path::PathBuf;

use casewright_core::text::nearest;
use casewright_drawing::Language;
use casewright_drawing::furniture::Chapter;
use lexopt::Arg;

use crate::failure::Failure;

/// What the program was asked to do.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Command {
    /// Open the window, with this design if one is named.
    Window(Option<PathBuf>),
    /// Print the findings.
    Check {
        /// The design.
        file: PathBuf,
        /// The language of the findings.
        language: Language,
    },
    /// Print or write everything derived as JSON.
    Derive {
        /// The design.
        file: PathBuf,
        /// Where to; the standard output if not given.
        out: Option<PathBuf>,
    },
    /// Write the sheets and the lists.
    Export {
        /// The design.
        file: PathBuf,
        /// The folder to write to.
        out: PathBuf,
        /// Only these chapters of the pack; all if none is named.
        only: Vec<Chapter>,
        /// The language of sheets and lists.
        language: Language,
    },
    /// Print the cutting plan.
    Cut(CutOptions),
    /// Write proposals for the carcass.
    Arrange(ArrangeOptions),
    /// Print the stock, or add to it.
    Stock(StockOptions),
    /// Print nominal diagonals, or what two measured ones say.
    Square {
        /// The design.
        file: PathBuf,
        /// The box or opening, as the list names it.
        of: Option<String>,
        /// The measured diagonals from lower left and from lower right, as lengths in the design's unit.
        measured: Option<(String, String)>,
    },
    /// Print what can be done with a part that was cut wrong.
    Rescue {
        /// The design.
        file: PathBuf,
        /// The number of the part.
        part: String,
        /// Its length and width as they came out, as lengths in the design's unit; as planned where not given.
        size: (Option<String>, Option<String>),
    },
    /// Write a design to start from.
    New(PathBuf),
    /// Print how the program is called.
    Help,
    /// Print the version.
    Version,
}

/// What `cut` was asked to do.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct CutOptions {
    /// The design.
    pub(crate) file: PathBuf,
    /// How long to look for a better plan; a fixed effort if not given.
    pub(crate) seconds: Option<f64>,
    /// Width of the saw cut as a length expression in the design's unit.
    pub(crate) kerf: Option<String>,
    /// Where to write the plan as CSV.
    pub(crate) csv: Option<PathBuf>,
}

/// What `arrange` was asked to do.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ArrangeOptions {
    /// The design.
    pub(crate) file: PathBuf,
    /// The folder to write to; `NAME-proposals` beside the design if not given.
    pub(crate) out: Option<PathBuf>,
    /// How long to look for better ones; a fixed effort if not given.
    pub(crate) seconds: Option<f64>,
    /// The bay that is divided anew; the whole carcass if not given.
    pub(crate) bay: Option<String>,
    /// The language of the overview sheet and of what is printed.
    pub(crate) language: Language,
}

/// What `stock` was asked to do.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct StockOptions {
    /// The design.
    pub(crate) file: PathBuf,
    /// A table of boards to add.
    pub(crate) add: Option<PathBuf>,
    /// An old cabinet to add, in one line.
    pub(crate) old_box: Option<String>,
    /// Where to write the design with the boards added.
    pub(crate) out: Option<PathBuf>,
    /// Where to write the stock as CSV.
    pub(crate) csv: Option<PathBuf>,
}

/// How the program is called.
pub(crate) const USAGE: &str = "\
Casewright designs fitted carcass furniture around the things that it must hold.

  casewright [FILE]                     open the window
  casewright check FILE                 print the findings; exit 0 clean or warnings only, 1 errors,
                                        2 cannot be read or cannot be solved
             [--language en|de]         the language of the findings; English if not given
  casewright derive FILE [--out F]      everything derived, as JSON (docs/derive.md)
  casewright export FILE --out DIR      the sheets as PDF and SVG, the lists as CSV
             [--only views,parts,...]   only these chapters of the sheets: views, lists, parts, joinery, cutting, checks,
                                        order, site, moving
             [--language en|de]         the language of sheets and lists; English if not given
  casewright cut FILE [--seconds S]     boards to cutting plan; exit 1 if parts are left over
             [--kerf K] [--csv F]       width of the saw cut (3.2 mm), and the plan as CSV too
  casewright arrange FILE [--out DIR]   several carcasses for the things in the file, as designs and on a sheet
             [--bay NAME] [--seconds S] only what is in one bay; time to look for better ones
             [--language en|de]         the language of the sheet; English if not given
  casewright stock FILE [--csv F]       the boards in stock, as CSV too
             [--add TABLE] [--box LINE] boards from a table (CSV, or pasted from a spreadsheet), or the panels of an
             [--out NEW]                old cabinet, as in `--box \"name=shelf, size=800x2000x400, material=white 18,
                                        thickness=18, shelves=4\"`; --out writes the design with them
  casewright square FILE                print the diagonals of all boxes and openings
             [--of NAME --first D --second D]   say what two measured ones mean
  casewright rescue FILE --part NUMBER  what can be done with a part that was cut wrong
             [--length L] [--width W]   its finished size as it came out; what is not given is as planned
  casewright new FILE                   write a commented design to start from

  --help, --version

A design that has the name of a command is opened as ./NAME.
";

/// The longest time that `--seconds` may ask for: a day.
const MOST_SECONDS: f64 = 86_400.0;

/// The names of all commands.
const COMMANDS: [&str; 9] = ["check", "derive", "export", "cut", "arrange", "stock", "square", "rescue", "new"];

/// What is said of a command that there is none of.
fn no_command(name: &str) -> Failure {
    let mend = match nearest(name, &COMMANDS) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("write one of: {}", COMMANDS.join(", ")),
    };
    Failure::usage(format!("there is no command `{name}`"), mend)
}

/// What the arguments (without the program's own name) ask for.
///
/// # Errors
/// An unknown or doubled option, a missing or superfluous argument.
pub(crate) fn parse(args: impl IntoIterator<Item = OsString>) -> Result<Command, Failure> {
    let mut parser = lexopt::Parser::from_args(args);
    let first = match parser.next().map_err(wrong)? {
        None => return Ok(Command::Window(None)),
        Some(Arg::Long("help") | Arg::Short('h')) => return Ok(Command::Help),
        Some(Arg::Long("version") | Arg::Short('V')) => return Ok(Command::Version),
        Some(Arg::Value(value)) => value,
        Some(other) => return Err(wrong(other.unexpected())),
    };
    let name = first.to_str().unwrap_or_default().to_owned();
    let allowed: &[&str] = match name.as_str() {
        "derive" => &["out"],
        "check" => &["language"],
        "export" => &["out", "only", "language"],
        "cut" => &["seconds", "kerf", "csv"],
        "arrange" => &["out", "seconds", "bay", "language"],
        "stock" => &["add", "box", "csv", "out"],
        "square" => &["of", "first", "second"],
        "rescue" => &["part", "length", "width"],
        _ => &[],
    };
    let known = COMMANDS.contains(&name.as_str());
    let mut rest = Rest::default();
    if !known {
        rest.file = Some(first.into());
    }
    while let Some(arg) = parser.next().map_err(wrong)? {
        match arg {
            Arg::Long("help") | Arg::Short('h') => return Ok(Command::Help),
            Arg::Long(option) if allowed.contains(&option) => {
                let option = option.to_owned();
                let value = parser.value().map_err(wrong)?;
                rest.set(&option, value)?;
            }
            Arg::Value(value) if rest.file.is_none() => rest.file = Some(value.into()),
            // A word and a file behind it: a command was meant.
            Arg::Value(_) if !known && !name.contains(['.', '/', '\\']) => return Err(no_command(&name)),
            other => return Err(wrong(other.unexpected())),
        }
    }
    // A word alone that is nearly a command and no file: a command was meant.
    if !known
        && rest.file.as_ref().is_some_and(|file| !file.exists())
        && !name.contains(['.', '/', '\\'])
        && nearest(&name, &COMMANDS).is_some()
    {
        return Err(no_command(&name));
    }
    rest.into_command(&name, known)
}

/// The chapters that a list with commas names.
fn chapters(text: &str) -> Result<Vec<Chapter>, Failure> {
    let one = |word: &str| {
        Chapter::of_word(word.trim()).ok_or_else(|| {
            let known = Chapter::ALL.map(Chapter::word).join(", ");
            Failure::usage(
                format!("`--only {text}`: there is no chapter called {word:?}"),
                format!("name some of: {known}"),
            )
        })
    };
    text.split(',').map(one).collect()
}

/// The language of a code.
fn language(text: &str) -> Result<Language, Failure> {
    Language::of_code(text).ok_or_else(|| {
        let known = Language::ALL.map(Language::code).join(" or ");
        Failure::usage(format!("`--language {text}`: there is no such language"), format!("write {known}"))
    })
}

/// What stands behind the name of the command.
#[derive(Default)]
struct Rest {
    file: Option<PathBuf>,
    out: Option<PathBuf>,
    seconds: Option<f64>,
    kerf: Option<String>,
    csv: Option<PathBuf>,
    add: Option<PathBuf>,
    bay: Option<String>,
    only: Option<Vec<Chapter>>,
    language: Option<Language>,
    old_box: Option<String>,
    of: Option<String>,
    first: Option<String>,
    second: Option<String>,
    part: Option<String>,
    length: Option<String>,
    width: Option<String>,
}

impl Rest {
    fn set(&mut self, option: &str, value: OsString) -> Result<(), Failure> {
        let text = value.to_string_lossy().into_owned();
        if text.is_empty() {
            return Err(Failure::usage(format!("`--{option}` is empty"), "write what it should be behind it"));
        }
        let doubled = match option {
            "out" => self.out.replace(value.into()).is_some(),
            "csv" => self.csv.replace(value.into()).is_some(),
            "add" => self.add.replace(value.into()).is_some(),
            "only" => self.only.replace(chapters(&text)?).is_some(),
            "language" => self.language.replace(language(&text)?).is_some(),
            "bay" => self.bay.replace(text).is_some(),
            "box" => self.old_box.replace(text).is_some(),
            "of" => self.of.replace(text).is_some(),
            "first" => self.first.replace(text).is_some(),
            "second" => self.second.replace(text).is_some(),
            "part" => self.part.replace(text).is_some(),
            "length" => self.length.replace(text).is_some(),
            "width" => self.width.replace(text).is_some(),
            "kerf" => self.kerf.replace(text).is_some(),
            _ => self.seconds.replace(seconds(&text)?).is_some(),
        };
        if doubled {
            return Err(Failure::usage(format!("`--{option}` is given twice"), "leave one of them out"));
        }
        Ok(())
    }

    fn into_command(self, name: &str, known: bool) -> Result<Command, Failure> {
        let file = match self.file {
            Some(file) if !file.as_os_str().is_empty() => file,
            _ => return Err(Failure::usage("the design file is missing", format!("write `casewright {name} FILE`"))),
        };
        Ok(match name {
            _ if !known => Command::Window(Some(file)),
            "check" => Command::Check { file, language: self.language.unwrap_or_default() },
            "derive" => Command::Derive { file, out: self.out },
            "export" => match self.out {
                Some(out) => {
                    let (only, language) = (self.only.unwrap_or_default(), self.language.unwrap_or_default());
                    Command::Export { file, out, only, language }
                }
                None => {
                    return Err(Failure::usage("`export` does not know where to write", "add `--out DIR`"));
                }
            },
            "cut" => Command::Cut(CutOptions { file, seconds: self.seconds, kerf: self.kerf, csv: self.csv }),
            "arrange" => Command::Arrange(ArrangeOptions {
                file,
                out: self.out,
                seconds: self.seconds,
                bay: self.bay,
                language: self.language.unwrap_or_default(),
            }),
            "stock" => Command::Stock(StockOptions {
                file,
                add: self.add,
                old_box: self.old_box,
                out: self.out,
                csv: self.csv,
            }),
            "square" => {
                let measured = match (self.first, self.second) {
                    (Some(first), Some(second)) => Some((first, second)),
                    (None, None) => None,
                    _ => {
                        return Err(Failure::usage(
                            "`square` needs both diagonals",
                            "write `--first D` from the lower left and `--second D` from the lower right corner",
                        ));
                    }
                };
                Command::Square { file, of: self.of, measured }
            }
            "rescue" => match (self.part, self.length, self.width) {
                (None, ..) => {
                    let mend = "add `--part NUMBER`, as in the parts list";
                    return Err(Failure::usage("`rescue` does not know which part", mend));
                }
                (_, None, None) => {
                    let mend = "add `--length L`, `--width W`, or both";
                    return Err(Failure::usage("`rescue` does not know how the part came out", mend));
                }
                (Some(part), length, width) => Command::Rescue { file, part, size: (length, width) },
            },
            _ => Command::New(file),
        })
    }
}

fn seconds(text: &str) -> Result<f64, Failure> {
    match text.parse::<f64>() {
        Ok(seconds) if seconds > 0.0 && seconds <= MOST_SECONDS => Ok(seconds),
        _ => Err(Failure::usage(
            format!("`--seconds {text}` is no time between 0 and {MOST_SECONDS} s"),
            "write for example `--seconds 10`",
        )),
    }
}

fn wrong(error: impl Into<lexopt::Error>) -> Failure {
    Failure::usage(error.into().to_string(), "see `casewright --help`")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(line: &str, expected: &str) {
        let words = line.split_whitespace().map(OsString::from);
        let found = match parse(words) {
            Ok(command) => format!("{command:?}"),
            Err(failure) => failure.to_string(),
        };
        assert_eq!(found, expected, "casewright {line}");
    }

    #[test]
    fn commands() {
        check("", "Window(None)");
        check("a.ron", r#"Window(Some("a.ron"))"#);
        check("./check", r#"Window(Some("./check"))"#);
        // Nothing that is like a command: a design that is not there yet.
        check("bookcase", r#"Window(Some("bookcase"))"#);
        check("./chek", r#"Window(Some("./chek"))"#);
        check("chek.ron", r#"Window(Some("chek.ron"))"#);
        check("check a.ron", r#"Check { file: "a.ron", language: English }"#);
        check("check --language de a.ron", r#"Check { file: "a.ron", language: German }"#);
        check("check -- -a.ron", r#"Check { file: "-a.ron", language: English }"#);
        check("derive a.ron", r#"Derive { file: "a.ron", out: None }"#);
        check("derive --out=b.json a.ron", r#"Derive { file: "a.ron", out: Some("b.json") }"#);
        check("export a.ron --out d", r#"Export { file: "a.ron", out: "d", only: [], language: English }"#);
        check(
            "export a.ron --out d --only views,order --language de",
            r#"Export { file: "a.ron", out: "d", only: [Views, Order], language: German }"#,
        );
        check(
            "cut a.ron --seconds 2.5 --kerf 4",
            r#"Cut(CutOptions { file: "a.ron", seconds: Some(2.5), kerf: Some("4"), csv: None })"#,
        );
        check(
            "stock a.ron --add b.csv",
            r#"Stock(StockOptions { file: "a.ron", add: Some("b.csv"), old_box: None, out: None, csv: None })"#,
        );
        check("new a.ron", r#"New("a.ron")"#);
        check("square a.ron", r#"Square { file: "a.ron", of: None, measured: None }"#);
        check(
            "square a.ron --of linen --first 700 --second 702",
            r#"Square { file: "a.ron", of: Some("linen"), measured: Some(("700", "702")) }"#,
        );
        check(
            "rescue a.ron --part BO --length 700",
            r#"Rescue { file: "a.ron", part: "BO", size: (Some("700"), None) }"#,
        );
        check("--help", "Help");
        check("export -h", "Help");
        check("-V", "Version");
    }

    #[test]
    fn mistakes() {
        check("chek", "casewright: there is no command `chek`; did you mean `check`?");
        check("exprot", "casewright: there is no command `exprot`; did you mean `export`?");
        check(
            "square a --first 700",
            "casewright: `square` needs both diagonals; write `--first D` from the lower left and `--second D` from the \
             lower right corner",
        );
        check(
            "rescue a --part BO",
            "casewright: `rescue` does not know how the part came out; add `--length L`, `--width W`, or both",
        );
        check(
            "rescue a --width 5",
            "casewright: `rescue` does not know which part; add `--part NUMBER`, as in the parts list",
        );
        check("check", "casewright: the design file is missing; write `casewright check FILE`");
        check("check a b", "casewright: unexpected argument \"b\"; see `casewright --help`");
        check("check a --out b", "casewright: invalid option '--out'; see `casewright --help`");
        check("a.ron b.ron", "casewright: unexpected argument \"b.ron\"; see `casewright --help`");
        check("chek a.ron", "casewright: there is no command `chek`; did you mean `check`?");
        check(
            "frobnicate a.ron",
            "casewright: there is no command `frobnicate`; write one of: check, derive, export, cut, arrange, stock, \
             square, rescue, new",
        );
        check("export a", "casewright: `export` does not know where to write; add `--out DIR`");
        check("export a --out", "casewright: missing argument for option '--out'; see `casewright --help`");
        check("export a --out=", "casewright: `--out` is empty; write what it should be behind it");
        check("export a --out b --out c", "casewright: `--out` is given twice; leave one of them out");
        check(
            "export a --out b --language fr",
            "casewright: `--language fr`: there is no such language; write en or de",
        );
        check("--frob", "casewright: invalid option '--frob'; see `casewright --help`");
        for bad in ["0", "-1", "soon", "NaN", "inf", "86401"] {
            check(
                &format!("cut a --seconds={bad}"),
                &format!(
                    "casewright: `--seconds {bad}` is no time between 0 and 86400 s; write for example `--seconds 10`"
                ),
            );
        }
    }
}
