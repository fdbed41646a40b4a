#!/usr/bin/env python3
"""Compares casewright-cutting with the general-purpose library rectpack (PyPI, Apache-2.0) on the published sets.

    pip install rectpack==0.2.2
    cargo build --release -p casewright-cutting --example measure
    python3 tests/scripts/compare_rectpack.py SETS_FOLDER [SECONDS] [EVERY]

SETS_FOLDER holds gcut, cgcut, ... as in tests/data/cutting. rectpack gets its guillotine mode, all its rules (18
placement rules x 6 orders x 4 ways to open boards) until as many seconds of the processor are over, and the best result
counts. casewright works by counted work; the longest time that it took is printed. EVERY = 10
takes every tenth instance of the long sets. The measure tool must find the same sets (it looks for
shared/reference/cutting beside the repository, then takes the committed part).
"""

import csv
import itertools
import os
import re
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import rectpack

RULES = [getattr(rectpack, name) for name in dir(rectpack) if name.startswith("Guillotine")]
ORDERS = [rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI, rectpack.SORT_DIFF, rectpack.SORT_RATIO]
BINS = [rectpack.PackingBin.BFF, rectpack.PackingBin.BBF, rectpack.PackingBin.BNF, rectpack.PackingBin.Global]


def tries(seconds):
    """All rules, until the time is over; the first is always tried."""
    start = time.process_time()
    for number, rule in enumerate(itertools.product(ORDERS, RULES, BINS)):
        if number and time.process_time() - start > seconds:
            return
        yield rule


def pack(boards, pieces, turned, rule):
    """Packed (board index, piece id) for boards [(w, h, count)] and pieces [(w, h)]."""
    order, algorithm, bins = rule
    packer = rectpack.newPacker(rectpack.PackingMode.Offline, bins, algorithm, order, rotation=turned)
    for index, (w, h) in enumerate(pieces):
        packer.add_rect(w, h, index)
    for w, h, count in boards:
        packer.add_bin(w, h, count=count)
    packer.pack()
    return packer


def fewest(boards, pieces, turned, seconds, cost):
    """Least cost of boards that hold everything; infinite when no rule places every piece."""
    best = float("inf")
    for rule in tries(seconds):
        packer = pack(boards, pieces, turned, rule)
        if len(packer.rect_list()) == len(pieces):
            best = min(best, sum(cost(b.width, b.height) for b in packer if len(b)))
    return best


def most(board, pieces, values, turned, seconds):
    """Most value on one board."""
    return max(
        sum(values[r[5]] for r in pack([(*board, 1)], pieces, turned, rule).rect_list()) for rule in tries(seconds)
    )


def numbers(path):
    return [int(round(float(w))) for w in re.findall(r"[-0-9.]+", path.read_text(errors="ignore"))]


def one_board(root, kind):
    """(name, board, [(w, h, copies, value)])"""
    for path in sorted((root / kind / "data").iterdir()):
        n = numbers(path)
        if kind == "gcut":
            board, rest = (n[1], n[2]), n[3:]
            rows = [(w, h, (board[0] // w) * (board[1] // h), v) for w, h, v in zip(*[iter(rest)] * 3)]
        elif kind == "cgcut":
            board, rest = (n[1], n[2]), n[3:]
            rows = [(w, h, c, v) for w, h, c, v in zip(*[iter(rest)] * 4)]
        else:
            board, rest = (n[1], n[2]), n[3:]
            rows = [(w, h, c, v) for v, w, h, c in zip(*[iter(rest)] * 4)]
        yield path.stem, board, rows


def many_boards(root, kind):
    """(name, [(w, h, count)], [(w, h)])"""
    for path in sorted((root / kind / "data").iterdir()):
        n = numbers(path)
        if kind == "2bp_class":
            pieces = [(w, h) for _, w, h in zip(*[iter(n[3:])] * 3)]
            yield path.stem, [(n[1], n[2], len(pieces))], pieces
        else:
            kinds = n[0]
            boards = [(w, h, c) for h, w, c, _, _ in zip(*[iter(n[2 : 2 + 5 * kinds])] * 5)]
            yield path.stem, boards, [(w, h) for h, w, _, _ in zip(*[iter(n[2 + 5 * kinds :])] * 4)]


def bars(root):
    """(name, length, [length of each piece]), names as the measure tool has them."""
    data = root / "1d_esicup_cc0/data"
    for path in sorted(data.glob("falkenauer/*.txt")):
        # Number of problems; per problem: name ; capacity, n, best known ; n sizes, with one decimal in some files.
        words = iter(path.read_text().split())
        for _ in range(int(next(words))):
            name, length, n, _ = (next(words) for _ in range(4))
            tenths = [round(float(x) * 10) for x in itertools.islice(words, int(n))]
            yield f"falkenauer/{path.name}:{name}", round(float(length) * 10), tenths
    for path in sorted(data.glob("scholl/*.zip")):
        # n ; capacity ; n sizes.
        with zipfile.ZipFile(path) as archive:
            for name in sorted(archive.namelist()):
                n = list(map(int, archive.read(name).split()))
                yield f"scholl/{path.name}:{name}", n[1], n[2:]
    for path in sorted(data.glob("scholl/bin*data/*")):
        n = numbers(path)
        folder = path.parent.name
        yield f"scholl/{folder}/{path.name}" if folder == "bin3data" else f"scholl/{folder}.zip:{path.name}", n[1], n[2:]
    for name in [
        "schwerin/SCH_WAE1.BPP",
        "schwerin/SCH_WAE2.BPP",
        "waescher/WAE_GAU1.BPP",
        "waescher/WAE_GAU2.BPP",
        "hard28/hard28.txt",
    ]:
        # Per problem: 'name' ; m ; capacity ; m lines: size demand.
        path = data / name
        if not path.exists():
            continue
        lines = [line.strip() for line in path.read_text().splitlines() if line.strip()]
        at, seen = 0, {}
        while at < len(lines):
            title = f"{name}:{' '.join(lines[at].strip(chr(39)).split())}"
            seen[title] = seen.get(title, 0) + 1
            if seen[title] > 1:
                title += f" (occurrence {seen[title]})"
            m, length = int(lines[at + 1]), int(lines[at + 2])
            rows = [list(map(int, line.split())) for line in lines[at + 3 : at + 3 + m]]
            yield title, length, [x for x, count in rows for _ in range(count)]
            at += 3 + m


def ours(root, names, seconds):
    """{(set, instance): (value, seconds of the processor)} from the measure tool, by counted work: a hundred million units for
    each second, so that the plans do not depend on what else the machine does."""
    tool = Path(__file__).resolve().parents[2] / "target/release/examples/measure"
    found = {}
    for name in names:
        run = subprocess.run([tool, name, str(-seconds)], env={**os.environ, "MEASURE_ROWS": "1"}, capture_output=True, text=True, check=True)
        for row in csv.reader(line for line in run.stdout.splitlines() if line.startswith("row,")):
            found[row[1], row[2]] = int(row[3]), float(row[4])
    return found


def main():
    root = Path(sys.argv[1])
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 1.0
    every = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    theirs, better_is_more = {}, {"gcut-fixed", "gcut-turned", "cgcut-fixed", "classic-fixed"}
    for kind, label in [("gcut", "gcut"), ("cgcut", "cgcut"), ("classic_constrained_guillotine", "classic")]:
        for name, board, rows in one_board(root, kind):
            pieces = [(w, h) for w, h, c, _ in rows for _ in range(c)]
            values = [v for _, _, c, v in rows for _ in range(c)]
            for turned in [False, True] if kind == "gcut" else [False]:
                key = (f"{label}-{'turned' if turned else 'fixed'}", name)
                theirs[key] = most(board, pieces, values, turned, seconds)
    for name, length, lengths in list(bars(root))[::every]:
        theirs["bars", name] = fewest([(length, 1, len(lengths))], [(x, 1) for x in lengths], False, seconds, lambda w, h: 1)
    if (root / "2bp_class").exists():
        for name, boards, pieces in list(many_boards(root, "2bp_class"))[::every]:
            for turned, key in [(False, "class-fixed"), (True, "class-turned")]:
                theirs[key, name] = fewest(boards, pieces, turned, seconds, lambda w, h: 1)
    if (root / "vsbp_nice").exists():
        for name, boards, pieces in list(many_boards(root, "vsbp_nice"))[::every]:
            theirs["nice", name] = fewest(boards, pieces, False, seconds, lambda w, h: w * h)
    found = ours(root, ["gcut", "cgcut", "classic", "bars", "class-fixed", "class-turned", "nice"], seconds)
    print("| set | instances | casewright better | equal | casewright worse | casewright sum | rectpack sum | longest of casewright |")
    print("|---|---|---|---|---|---|---|---|")
    worse_anywhere = 0
    for label in dict.fromkeys(key[0] for key in theirs):
        pairs = [(found[k][0], v, k) for k, v in theirs.items() if k[0] == label and k in found]
        lost = [k for k in theirs if k[0] == label and k not in found]
        if lost:
            raise SystemExit(f"the measure tool does not know {lost}")
        longest = max(found[k][1] for _, _, k in pairs)
        sign = 1 if label in better_is_more else -1
        better = sum(sign * (a - b) > 0 for a, b, _ in pairs)
        worse = [k for a, b, k in pairs if sign * (a - b) < 0]
        equal = len(pairs) - better - len(worse)
        worse_anywhere += len(worse)
        placed = [(a, b) for a, b, _ in pairs if b != float("inf")]
        failed = len(pairs) - len(placed)
        note = f" ({failed} not placed at all, left out of both sums)" if failed else ""
        print(f"| {label} | {len(pairs)} | {better} | {equal} | {len(worse)} | {sum(a for a, _ in placed)} | {sum(b for _, b in placed)}{note} | {longest:.2f} s |")
        for k in worse:
            print(f"<!-- worse: {k} ours {found[k]} rectpack {theirs[k]} -->")
    return 1 if worse_anywhere else 0


if __name__ == "__main__":
    sys.exit(main())
