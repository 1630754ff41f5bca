#!/usr/bin/env python3
"""Every file includes what it uses, itself or by the project's headers that it includes: files that are compiled in groups would hide what is missing.

usage: own_includes.py   Prints each missing header; the last line is `N passed, N failed`.
"""
import glob
import os
import re
import sys

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "../support"))
from unity_groups import ROOT, Source, TYPE, bare, header_of  # noqa: E402

SYSTEM = re.compile(r"^\s*#\s*include\s*<([^>]+)>", re.MULTILINE)
# Names of the standard library, and the headers that bring them by the standard (cppreference's synopses, from memory) or in practice.
STANDARD = {
    "array": "array", "vector": "vector", "string": "string", "string_view": "string_view string", "optional": "optional", "nullopt": "optional", "map": "map", "multimap": "map",
    "set": "set", "span": "span", "deque": "deque", "variant": "variant", "function": "functional", "unique_ptr": "memory", "shared_ptr": "memory", "make_unique": "memory",
    "make_shared": "memory", "atomic": "atomic", "thread": "thread", "mutex": "mutex", "lock_guard": "mutex", "condition_variable": "condition_variable", "ifstream": "fstream",
    "ofstream": "fstream", "istringstream": "sstream", "ostringstream": "sstream", "stringstream": "sstream", "filesystem": "filesystem", "chrono": "chrono", "complex": "complex",
    "mt19937": "random", "mt19937_64": "random", "uniform_int_distribution": "random", "uniform_real_distribution": "random", "normal_distribution": "random", "random_device": "random",
    "numeric_limits": "limits", "numbers": "numbers", "from_chars": "charconv", "to_chars": "charconv", "accumulate": "numeric", "iota": "numeric", "sort": "algorithm",
    "stable_sort": "algorithm", "find_if": "algorithm", "any_of": "algorithm", "all_of": "algorithm", "none_of": "algorithm", "count_if": "algorithm", "max_element": "algorithm",
    "min_element": "algorithm", "lower_bound": "algorithm", "upper_bound": "algorithm", "clamp": "algorithm", "copy_if": "algorithm", "transform": "algorithm", "nth_element": "algorithm",
    "cout": "iostream", "cerr": "iostream", "sin": "cmath", "cos": "cmath", "sqrt": "cmath", "lround": "cmath", "exp": "cmath", "log": "cmath", "log2": "cmath", "log10": "cmath",
    "isfinite": "cmath", "isnan": "cmath", "floor": "cmath", "ceil": "cmath", "hypot": "cmath", "unordered_map": "unordered_map", "tuple": "tuple", "runtime_error": "stdexcept",
    "memcpy": "cstring", "strlen": "cstring", "getenv": "cstdlib", "strtod": "cstdlib", "fopen": "cstdio", "snprintf": "cstdio", "signal": "csignal", "sig_atomic_t": "csignal",
}


def read(path):
    with open(path, encoding="utf-8") as file:
        return file.read()


def closure(source):
    """The file's own text and those of the project's headers that it sees."""
    texts, known, waiting = [read(source.path)], set(), list(source.headers)
    while waiting:
        name = waiting.pop()
        if name not in known and (found := header_of(name)):
            known.add(name)
            texts.append(read(found.path))
            waiting += found.headers
    return texts


def missing(source, types):
    texts = closure(source)
    brought = {header for text in texts for header in SYSTEM.findall(text)}
    own = bare(texts[0])
    out = [f"std::{name} without <{STANDARD[name].split()[0]}>" for name in sorted(set(re.findall(r"\bstd::(\w+)", own)))
           if name in STANDARD and not brought & set(STANDARD[name].split())]
    here = {name for text in texts for name in TYPE.findall(bare(text))} | {name for text in texts for name in re.findall(r"\b(?:using|typename|size_t) (\w+)", text)}
    return out + [f"{name} without \"{types[name]}\"" for name in sorted((source.words & set(types)) - here)]


def main():
    paths = sorted(p for top in ("src", "dsp", "tests") for ending in ("h", "cpp") for p in glob.glob(f"{ROOT}/{top}/**/*.{ending}", recursive=True))
    paths = [p for p in paths if not p.startswith(f"{ROOT}/tests/bench/")]  # never compiled in groups
    types = {}
    for path in paths:
        if path.endswith(".h") and not path.startswith(f"{ROOT}/tests/"):
            text = bare(read(path))
            types.update({name: os.path.relpath(path, ROOT) for name in re.findall(r"^(?:struct|class|enum class) ([A-Z]\w+)", text, re.MULTILINE)})
    failed = 0
    for path in paths:
        troubles = missing(Source(path), types)
        failed += bool(troubles)
        for trouble in troubles:
            print(f"FAILED: {os.path.relpath(path, ROOT)}: {trouble}")
    good = failed == 0 and len(paths) > 500
    print(f"{len(paths) - failed} of {len(paths)} files include what they use")
    print("1 passed, 0 failed" if good else "0 passed, 1 failed")
    sys.exit(not good)


if __name__ == "__main__":
    main()
