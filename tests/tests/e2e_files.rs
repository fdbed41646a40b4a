//! The program among files as they are in life: no rights, a full disk, links, names of all kinds, slow pipes, several writers at
//! once, and kills in the middle of writing.
#![cfg(unix)]

use std::collections::BTreeSet;
use std::fs;
use std::io::Write as _;
use std::os::unix::ffi::OsStrExt as _;
use std::os::unix::fs::{PermissionsExt as _, symlink};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use casewright_tests::program::{path as program, root, run};

const DEMO: &str = "demo/container-trolley.ron";

fn text(path: &Path) -> &str {
    path.to_str().expect("a name in UTF-8")
}

/// The names in a folder.
fn names(folder: &Path) -> BTreeSet<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect()
}

fn is_root() -> bool {
    let id = Command::new("id").arg("-u").output().expect("id");
    id.stdout.starts_with(b"0\n")
}

/// Runs the program as somebody who has no rights beyond those that files give: for root as nobody, with a copy of the program
/// where nobody can reach it.
fn run_without_privilege(folder: &Path, args: &[&str]) -> (i32, String) {
    let mut command = if is_root() {
        let copy = folder.join("casewright");
        if !copy.exists() {
            fs::copy(program(), &copy).expect("a copy of the program");
        }
        fs::set_permissions(folder, fs::Permissions::from_mode(0o755)).expect("rights");
        let mut command = Command::new("setpriv");
        command.args(["--reuid", "65534", "--regid", "65534", "--clear-groups"]).arg(copy);
        command
    } else {
        Command::new(program())
    };
    let output = command.args(args).current_dir("/").output().expect("a run");
    (output.status.code().unwrap_or(-1), String::from_utf8_lossy(&output.stderr).into_owned())
}

#[test]
fn missing_rights_are_said_and_nothing_is_left() {
    let folder = tempfile::tempdir().expect("a folder");
    let secret = folder.path().join("secret.ron");
    fs::copy(root().join(DEMO), &secret).expect("a copy");
    fs::set_permissions(&secret, fs::Permissions::from_mode(0o000)).expect("rights");
    let (code, err) = run_without_privilege(folder.path(), &["check", text(&secret)]);
    let mend = "permission is denied; change its rights or choose another place";
    assert_eq!((code, err.trim_end()), (2, &*format!("{}: cannot be read: {mend}", secret.display())));

    // A folder that may be looked into only.
    let design = folder.path().join("design.ron");
    fs::copy(root().join(DEMO), &design).expect("a copy");
    fs::set_permissions(&design, fs::Permissions::from_mode(0o644)).expect("rights");
    let shut = folder.path().join("shut");
    fs::create_dir(&shut).expect("a folder");
    let old = shut.join("old.json");
    fs::write(&old, "old").expect("a file");
    fs::set_permissions(&old, fs::Permissions::from_mode(0o666)).expect("rights");
    fs::set_permissions(&shut, fs::Permissions::from_mode(0o555)).expect("rights");
    for args in [
        vec!["derive", text(&design), "--out", text(&old)],
        vec!["export", text(&design), "--out", text(&shut)],
        vec!["new", text(&shut.join("new.ron"))],
    ] {
        let (code, err) = run_without_privilege(folder.path(), &args);
        assert_eq!(code, 2, "{args:?}: {err}");
        assert!(err.contains(mend), "{args:?}: {err}");
        assert_eq!(names(&shut), BTreeSet::from(["old.json".to_owned()]), "{args:?}");
        assert_eq!(fs::read_to_string(&old).expect("the old text"), "old");
    }
    fs::set_permissions(&shut, fs::Permissions::from_mode(0o755)).expect("rights");
}

/// A small disk of its own, taken away at the end.
struct SmallDisk(tempfile::TempDir);

impl SmallDisk {
    /// None where the system gives none to this user.
    fn mount() -> Option<Self> {
        let folder = tempfile::tempdir().expect("a folder");
        let mut mount = Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", "size=64k", "casewright-test"]).arg(folder.path());
        mount.stderr(Stdio::null()).status().ok()?.success().then_some(Self(folder))
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _left_mounted = Command::new("umount").arg(self.0.path()).status();
    }
}

#[test]
fn a_full_disk_is_said_and_the_old_file_stays() {
    // Standard output: the one device that is always full.
    let full = fs::File::options().write(true).open("/dev/full").expect("/dev/full");
    let mut derive = Command::new(program());
    let output = derive.args(["derive", DEMO]).current_dir(root()).stdout(full).output().expect("a run");
    let err = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{err}");
    assert_eq!(err, "standard output: cannot be written: the disk is full; make room, then try again\n");

    let check = |folder: &Path, wrap: &[&str], cause: &str| {
        let target = folder.join("derived.json");
        fs::write(&target, "old").expect("a small file");
        let before = names(folder);
        for args in [["derive", DEMO, "--out", text(&target)], ["export", DEMO, "--out", text(folder)]] {
            let mut command = Command::new(wrap.first().copied().unwrap_or(text(program())));
            command.args(wrap.iter().skip(1));
            if !wrap.is_empty() {
                command.arg(program());
            }
            let output = command.args(args).current_dir(root()).output().expect("a run");
            let err = String::from_utf8_lossy(&output.stderr);
            assert_eq!(output.status.code(), Some(2), "{args:?}: {err}");
            assert!(err.contains(cause), "{args:?}: {err}");
            assert_eq!(names(folder), before, "{args:?}");
            assert_eq!(fs::read_to_string(&target).expect("the old text"), "old");
        }
    };
    if let Some(disk) = SmallDisk::mount() {
        check(disk.0.path(), &[], "the disk is full; make room, then try again");
    } else {
        println!("no small disk can be mounted here: a limit on the size of files stands for it alone");
    }
    // No file may grow beyond 8 blocks.
    let folder = tempfile::tempdir().expect("a folder");
    let limited = ["sh", "-c", "trap '' XFSZ; ulimit -f 8; exec \"$@\"", "sh"];
    check(folder.path(), &limited, "cannot be written: ");
}

#[test]
fn links_stay_links_and_names_of_all_kinds_serve() {
    let folder = tempfile::tempdir().expect("a folder");
    let home = folder.path().join("Meine Entwürfe, groß");
    fs::create_dir(&home).expect("a folder");
    let design = home.join("Büro Möbel (2) – neu.ron");
    fs::copy(root().join(DEMO), &design).expect("a copy");
    assert_eq!(run(&["check", text(&design)]).code, run(&["check", DEMO]).code);
    let out = home.join("Blätter & Listen");
    let found = run(&["export", text(&design), "--out", text(&out), "--only", "views"]);
    assert_eq!(found.code, 0, "{}", found.err);
    assert!(out.join("Büro-Möbel-2-neu.pdf").exists(), "{:?}", names(&out));

    // Written through a link: the link stays, what it points to is new.
    let (real, link) = (home.join("echt.json"), folder.path().join("link.json"));
    fs::write(&real, "old").expect("a file");
    symlink(&real, &link).expect("a link");
    let found = run(&["derive", text(&design), "--out", text(&link)]);
    assert_eq!((found.code, found.err.as_str()), (0, ""));
    assert!(fs::symlink_metadata(&link).expect("the link").is_symlink());
    assert!(fs::read_to_string(&real).expect("the new text").starts_with('{'));
    // Read through a chain of links.
    let chain = folder.path().join("chain.ron");
    symlink(&design, folder.path().join("first.ron")).expect("a link");
    symlink("first.ron", &chain).expect("a link");
    assert_eq!(run(&["check", text(&chain)]).code, run(&["check", DEMO]).code);
    // A link that leads round in a circle, and one to nowhere.
    let circle = folder.path().join("circle.ron");
    symlink(&circle, &circle).expect("a link");
    let found = run(&["check", text(&circle)]);
    assert_eq!((found.code, found.out.as_str()), (2, ""), "{}", found.err);
    // A name that is no UTF-8.
    let odd = folder.path().join(std::ffi::OsStr::from_bytes(b"m\xf6bel.ron"));
    fs::copy(root().join(DEMO), &odd).expect("a copy");
    let output = Command::new(program()).arg("check").arg(&odd).output().expect("a run");
    assert_eq!(output.status.code(), Some(run(&["check", DEMO]).code));
}

#[test]
fn slow_pipes_are_waited_for() {
    let folder = tempfile::tempdir().expect("a folder");
    let pipe = folder.path().join("slow.ron");
    assert!(Command::new("mkfifo").arg(&pipe).status().expect("mkfifo").success());
    let bytes = fs::read(root().join(DEMO)).expect("the demo");
    let target = pipe.clone();
    let writer = std::thread::spawn(move || {
        let mut pipe = fs::File::options().write(true).open(target).expect("the pipe");
        for piece in bytes.chunks(bytes.len() / 10 + 1) {
            pipe.write_all(piece).expect("a piece");
            std::thread::sleep(Duration::from_millis(30));
        }
    });
    let (slow, quick) = (run(&["derive", text(&pipe)]), run(&["derive", DEMO]));
    writer.join().expect("the writer");
    assert_eq!((slow.code, slow.out), (quick.code, quick.out));
}

#[test]
fn a_file_that_is_being_written_is_never_taken_for_a_whole_one() {
    // Cut off at many places: what an editor that writes in place leaves for a moment.
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("part.ron");
    let whole = fs::read(root().join(DEMO)).expect("the demo");
    let whole = whole.trim_ascii_end();
    for tenth in 0..10 {
        let part = &whole[..whole.len() * tenth / 10];
        fs::write(&file, part).expect("a part");
        let found = run(&["check", text(&file)]);
        assert_eq!((found.code, found.out.as_str()), (2, ""), "{tenth}: {}", found.err);
        assert_eq!(fs::read(&file).expect("the part"), part);
    }
}

#[test]
fn several_writers_leave_one_whole_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let target = folder.path().join("derived.json");
    let demos = [DEMO, "demo/laundry-alcove.ron"];
    let expected: Vec<String> = demos.iter().map(|demo| run(&["derive", demo]).out).collect();
    for _ in 0..3 {
        let writers: Vec<_> = (0..6)
            .map(|number| {
                let mut command = Command::new(program());
                command.args(["derive", demos[number % 2], "--out", text(&target)]).current_dir(root());
                command.spawn().expect("a run")
            })
            .collect();
        for mut writer in writers {
            assert!(writer.wait().expect("its end").success());
        }
        let found = fs::read_to_string(&target).expect("the file");
        assert!(expected.contains(&found), "neither the one nor the other");
        assert_eq!(names(folder.path()), BTreeSet::from(["derived.json".to_owned()]));
    }
}

/// Kills in the middle of writing: how many, by `CASEWRIGHT_KILLS`; a few without it.
fn kills() -> u64 {
    std::env::var("CASEWRIGHT_KILLS").ok().and_then(|text| text.parse().ok()).unwrap_or(40)
}

#[test]
fn killed_while_writing_the_old_or_the_new_file_is_there() {
    let folder = tempfile::tempdir().expect("a folder");
    let target = folder.path().join("derived.json");
    let new = run(&["derive", DEMO]).out;
    let old = "the old text";
    let began = std::time::Instant::now();
    run(&["derive", DEMO, "--out", text(&target)]);
    let whole_run = u64::try_from(began.elapsed().as_micros()).unwrap_or(u64::MAX).max(1000);
    let (mut kept, mut replaced) = (0, 0);
    for round in 0..kills() {
        fs::write(&target, old).expect("the old text");
        let mut command = Command::new(program());
        command.args(["derive", DEMO, "--out", text(&target)]).current_dir(root());
        let mut child = command.spawn().expect("a run");
        // From the beginning of a run to a little past its end, most of them near the end, where the writing is.
        let share = [5, 40, 80, 90, 95, 100, 105, 110, 120][usize::try_from(round % 9).unwrap_or_default()];
        std::thread::sleep(Duration::from_micros(whole_run * share / 100 + round * 37 % 2000));
        child.kill().expect("a kill");
        child.wait().expect("its end");
        match fs::read_to_string(&target).expect("a file") {
            found if found == old => kept += 1,
            found if found == new => replaced += 1,
            found => panic!("round {round}: neither the old nor the new text: {} bytes", found.len()),
        }
    }
    println!("killed {} times: {kept} times the old file, {replaced} times the new one", kept + replaced);
    assert!(kept > 0, "some runs were killed before they were done");
}

/// All files below a folder, with what is in them.
fn contents(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let mut found: Vec<(PathBuf, Vec<u8>)> = names(folder)
        .into_iter()
        .map(|name| (PathBuf::from(&name), fs::read(folder.join(&name)).expect("a file")))
        .collect();
    found.sort();
    found
}

#[test]
fn the_same_bytes_whatever_the_surroundings() {
    let surroundings: [&[(&str, &str)]; 4] = [
        &[("LANG", "C"), ("TZ", "UTC")],
        &[("LANG", "de_DE.UTF-8"), ("LC_ALL", "de_DE.UTF-8"), ("RAYON_NUM_THREADS", "1"), ("TZ", "Asia/Tokyo")],
        &[
            ("LC_ALL", "tr_TR.UTF-8"),
            ("RAYON_NUM_THREADS", "7"),
            ("TZ", "America/St_Johns"),
            ("SOURCE_DATE_EPOCH", "1"),
        ],
        &[("LC_NUMERIC", "fr_FR.UTF-8"), ("LANGUAGE", "de"), ("HOME", "/nowhere"), ("TMPDIR", "/nowhere")],
    ];
    let folder = tempfile::tempdir().expect("a folder");
    let mut first = None;
    for (number, variables) in surroundings.into_iter().enumerate() {
        let out = folder.path().join(number.to_string());
        let call = |args: &[&str]| {
            // On one processor where the system can say so, else on all.
            let one = number % 2 == 1 && Command::new("taskset").arg("--version").output().is_ok();
            let mut command = Command::new(if one { "taskset" } else { text(program()) });
            if one {
                command.args(["-c", "0"]).arg(program());
            }
            for name in ["LANG", "LC_ALL", "LANGUAGE", "TZ"] {
                command.env_remove(name);
            }
            command.envs(variables.iter().copied()).args(args).current_dir(root());
            let output = command.output().expect("a run");
            assert!(output.status.success(), "{variables:?}: {}", String::from_utf8_lossy(&output.stderr));
            output.stdout
        };
        call(&["export", DEMO, "--out", text(&out)]);
        let found = (call(&["derive", DEMO]), call(&["check", DEMO]), contents(&out));
        assert!(found.2.len() > 10, "{}", found.2.len());
        match &first {
            None => first = Some(found),
            Some(first) => {
                assert!(first.0 == found.0, "derive differs with {variables:?}");
                assert!(first.1 == found.1, "check differs with {variables:?}");
                for ((name, one), (other, two)) in first.2.iter().zip(&found.2) {
                    assert!(name == other && one == two, "{} differs with {variables:?}", name.display());
                }
                assert_eq!(first.2.len(), found.2.len());
            }
        }
    }
}
