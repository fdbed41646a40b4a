//! The program is killed in the middle of edits and saves, 200 times, or as often as `CASEWRIGHT_KILLS` says: no file is ever broken, and at most the last edit
//! is lost.

#![expect(clippy::unwrap_used, reason = "a test may stop at the first thing that is not as it should be")]

use std::io::{BufRead as _, BufReader, Write as _};
use std::path::Path;
use std::process::{Command as Process, Stdio};
use std::time::Duration;

use casewright_core::design::Design;
use casewright_desktop::command::{Command, Name};
use casewright_desktop::document::Document;
use casewright_desktop::files::journal::{Entry, Journal};
use casewright_desktop::files::{read, write_whole};

const FOLDER: &str = "CASEWRIGHT_KILL_TEST_FOLDER";

/// How often it is killed.
fn kills() -> u64 {
    std::env::var("CASEWRIGHT_KILLS").ok().and_then(|text| text.parse().ok()).unwrap_or(200)
}

/// The number of the edit that a design has come to: it is written into the title.
fn edit_number(design: &Design) -> u64 {
    design.title.parse().unwrap()
}

/// What the window does for each edit, as fast as it can, saving every seventh time.
fn edit_and_save(folder: &Path) {
    let file = folder.join("design.ron");
    let journal = Journal::in_folder(folder.join("journal"));
    let text = read(&file).unwrap();
    let mut document = Document::of_file(Design::from_ron(&text).unwrap(), file.clone(), &text);
    let first = newest(folder).map_or(0, |design| edit_number(&design));
    for number in first + 1.. {
        let path = casewright_core::text::FieldPath::root().field("title");
        let value = serde_json::Value::String(number.to_string());
        document.apply(&Command::SetField { path, value, name: Name::new("edit-title") }).unwrap();
        let text = document.design().to_ron().unwrap();
        journal.write(&Entry { file: Some(file.clone()), text }).unwrap();
        if number % 7 == 0 {
            let (author, written) = document.text_to_save(read(&file).ok()).unwrap();
            write_whole(&file, &written).unwrap();
            journal.clear(Some(&file));
            document.was_saved(file.clone(), author, written);
        }
        let mut report = std::io::stdout().lock();
        writeln!(report, "{number}").unwrap();
        report.flush().unwrap();
    }
}

/// The newest design that a restart finds: the journal's if there is one, else the file's. Both must be whole.
fn newest(folder: &Path) -> Option<Design> {
    let file = folder.join("design.ron");
    let saved = Design::from_ron(&read(&file).unwrap()).unwrap();
    let left = Journal::in_folder(folder.join("journal")).left_over(Some(&file));
    let left = left.map(|entry| Design::from_ron(&entry.text).unwrap());
    Some(match left {
        Some(left) if edit_number(&left) > edit_number(&saved) => left,
        _ => saved,
    })
}

#[test]
fn killed_at_any_moment_at_most_one_edit_is_lost() {
    if let Some(folder) = std::env::var_os(FOLDER) {
        edit_and_save(Path::new(&folder));
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let text = read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/alcove.ron")).unwrap();
    let text = text.replace("\"Laundry alcove\"", "\"0\"");
    std::fs::write(folder.path().join("design.ron"), text).unwrap();
    let mut total = 0;
    let kills = kills();
    for round in 0..kills {
        let mut child = Process::new(std::env::current_exe().unwrap())
            .args(["--exact", "killed_at_any_moment_at_most_one_edit_is_lost", "--nocapture"])
            .env(FOLDER, folder.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        // Wait until it is at work, then a little longer, other each time.
        let began = lines.by_ref().map_while(Result::ok).find_map(|line| line.trim().parse::<u64>().ok());
        std::thread::sleep(Duration::from_micros(round * 7919 % 9000));
        child.kill().unwrap();
        child.wait().unwrap();
        let reported = lines.map_while(Result::ok).filter_map(|line| line.trim().parse().ok()).max().or(began).unwrap();
        let found = edit_number(&newest(folder.path()).unwrap());
        assert!(found >= reported, "round {round}: edit {reported} was done, {found} was found");
        assert!(found <= reported + 1, "round {round}: {found} was found, but only {reported} was reported");
        total = found;
    }
    println!("killed {kills} times, {total} edits made");
    assert!(total > kills, "edits went on in every round");
}
