//! What fuzzing begins with and has found is done again on every run, each input also cut, doubled and with bytes changed.
//! The fuzzer itself: `cargo fuzz run --fuzz-dir tests/fuzz -s none design tests/fuzz/corpus.new tests/data/fuzz/design`.

use std::time::{Duration, Instant};

use casewright_tests::program::root;
use casewright_tests::{fuzzed, random_design};

/// No input may take longer, without optimisation on a busy machine.
const LONGEST: Duration = Duration::from_secs(20);

/// A small generator that gives the same changes every time (xorshift, Marsaglia 2003).
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % most.max(1) as u64) as usize
    }
}

/// The input changed in a few ways that texts get broken in.
fn changed(input: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut bytes = input.to_vec();
    for _ in 0..=dice.below(3) {
        let at = dice.below(bytes.len());
        match dice.below(5) {
            0 => bytes.truncate(at),
            1 => bytes.extend_from_within(at..),
            2 => bytes.insert(at, b"()[]{}\",:;-+*/.0 9e\n"[dice.below(20)]),
            3 if !bytes.is_empty() => drop(bytes.remove(at)),
            _ => {
                if let Some(byte) = bytes.get_mut(at) {
                    *byte = byte.wrapping_add(1 + dice.below(7) as u8);
                }
            }
        }
    }
    bytes
}

#[test]
fn what_was_found_stays_mended() {
    let count = random_design::cases(40);
    for (name, run) in fuzzed::ALL {
        let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
        let mut files: Vec<_> = std::fs::read_dir(root().join("tests/data/fuzz").join(name))
            .unwrap()
            .map(|it| it.unwrap().path())
            .collect();
        files.sort();
        assert!(!files.is_empty(), "{name}");
        for file in files {
            let input = std::fs::read(&file).unwrap();
            for round in 0..=count {
                let bytes = if round == 0 { input.clone() } else { changed(&input, &mut dice) };
                let began = Instant::now();
                run(&bytes);
                assert!(began.elapsed() < LONGEST, "{name}: {}: {:?}", file.display(), began.elapsed());
            }
        }
    }
}
