#!/usr/bin/env python3
"""Sorts the sources of each target into groups that can be compiled as one file: no name that one file keeps to itself means anything in another of its group.

usage: unity_groups.py LIST   LIST holds lines `target|file`, file as an absolute path. Prints lines `target|file|group`; a file that must stay alone has none.
"""
import collections
import functools
import os
import re
import sys

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
MOST_LINES = 1500  # of a group: few enough that two cores end together, enough that headers are read seldom
COMMENT_OR_STRING = re.compile(r'R"(\w*)\((?:.|\n)*?\)\1"|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])+\'|//[^\n]*|/\*(?:.|\n)*?\*/')
DIRECTIVE = re.compile(r"^[ \t]*#(?:[^\n\\]|\\.|\\\n)*", re.MULTILINE)
INCLUDE = re.compile(r'^\s*#\s*include\s*"([^"]+)"', re.MULTILINE)
WORD = re.compile(r"(?<![\w.])(?<!->)(?<!::)[A-Za-z_]\w*")
CALLED = re.compile(r"(?<![\w.])(?<!->)(?<!::)([A-Za-z_]\w*)\s*\(")
PASSED = re.compile(r"(?<=[(,])\s*([A-Za-z_]\w*)\s*(?=[,)])")
LOCAL = re.compile(r"[\w>&*\]]\s*[\s&*]([A-Za-z_]\w*)\s*(?=[=;,){:\[])|\[([\w\s,]+)\]\s*:")
TYPE = re.compile(r"\b(?:struct|class|union|enum(?:\s+class)?)\s+(\w+)")
TEMPLATE = re.compile(r"\btemplate\s*<")
NOT_NAMES = set("const final override noexcept if else for while return switch void int double bool auto char float".split())


def bare(text):
    """The text without comments, strings, digit separators and lines of the preprocessor."""
    text = re.sub(r"(?<=\d)'(?=\d)", "", text)
    text = COMMENT_OR_STRING.sub(lambda m: " " if m.group(0).startswith("/") else '""', text)
    return DIRECTIVE.sub("", text)


def without_template_heads(text):
    """The text without `template <...>`: `class` in one declares no class."""
    while head := TEMPLATE.search(text):
        end, depth = head.end(), 1
        while end < len(text) and depth:
            depth += (text[end] == "<") - (text[end] == ">")
            end += 1
        text = text[:head.start()] + text[end:]
    return text


class Source:
    """A file: names that it keeps to itself, as functions, as aliases with their meaning, as anything else; all that it declares; what words it uses how."""

    def __init__(self, path):
        self.path = path
        with open(path, encoding="utf-8") as file:
            text = file.read()
        self.lines = text.count("\n")
        self.alone = re.search(r"^\s*#\s*(?:define|undef)\b", text, re.MULTILINE) is not None  # macros reach into the files behind
        self.headers = INCLUDE.findall(text)
        text = bare(text)
        self.functions, self.aliases, self.others, self.declared = set(), {}, set(), set()
        self.read(text)
        self.words = set(WORD.findall(text))
        local = {name for pair in LOCAL.findall(text) for words in pair for name in re.findall(r"\w+", words)}
        self.called = set(CALLED.findall(text)) | (set(PASSED.findall(text)) - local)

    def read(self, text):
        """Walks the braces, looking into namespaces only."""
        inside = []  # of the namespaces around: whether each keeps its names to the file
        start = place = 0
        while place < len(text):
            c = text[place]
            if c in "({[":
                chunk = text[start:place]
                if c == "{" and re.search(r"\bnamespace\b[\w\s:]*$", chunk):
                    inside.append(re.search(r"\bnamespace\s*$", chunk) is not None)
                    start = place = place + 1
                    continue
                end = self.closing(text, place)
                if c == "{" and (TYPE.search(chunk) or re.search(r"\)\s*(?:(?:const|noexcept|mutable)\b|->[\w\s:<>,*&]+|:[^{};]*)*\s*$", chunk)):
                    self.declare(chunk, any(inside))
                    start = end + 1
                place = end + 1
                continue
            if c == ";":
                self.declare(text[start:place], any(inside))
                start = place + 1
            elif c == "}" and inside:
                inside.pop()
                start = place + 1
            place += 1

    @staticmethod
    def closing(text, place):
        depth = 0
        for end in range(place, len(text)):
            depth += (text[end] in "({[") - (text[end] in ")}]")
            if depth == 0:
                return end
        return len(text)

    def declare(self, chunk, kept):
        """What a declaration outside functions declares; more than that does no harm, less does."""
        chunk = without_template_heads(re.sub(r"\[\[[^\]]*\]\]", "", chunk)).strip()
        if not chunk or re.match(r"(?:namespace|extern|friend|TEST_CASE|using\s+namespace)\b", chunk):
            return
        if alias := re.match(r"using\s+(\w+)\s*=(.*)", chunk, re.DOTALL):
            self.aliases[alias.group(1)] = " ".join(alias.group(2).split())
            return
        call, value = re.search(r"(\w+)\s*\(", chunk), re.search(r"[={]", chunk)
        kept = kept or re.search(r"\b(?:static|const|constexpr)\b", chunk[:call.start() if call else None]) is not None
        if kind := TYPE.search(chunk):
            self.declared.add(kind.group(1))
            if kept:
                self.others.add(kind.group(1))
        elif call and not (value and value.start() < call.start()):
            self.declared.add(call.group(1))
            if kept and not chunk[:call.start()].rstrip().endswith("::"):
                self.functions.add(call.group(1))
        elif kept:
            self.others |= {name for name in re.findall(r"([A-Za-z_]\w*)\s*(?:\[[^\]]*\]\s*)*(?=[={,]|$)", chunk)} - NOT_NAMES

    @functools.cached_property
    def seen(self):
        """What its headers declare, and theirs."""
        names, waiting, known = set(), list(self.headers), set()
        while waiting:
            header = waiting.pop()
            if header not in known and (found := header_of(header)):
                known.add(header)
                names |= found.declared
                waiting += found.headers
        return names

    def troubles(self, other):
        own = self.functions | self.others | set(self.aliases)
        if own & (other.seen - self.seen):
            return True
        if self.functions & (other.called | other.functions | other.others | set(other.aliases)) or self.others & other.words:
            return True
        return any(name in other.words and other.aliases.get(name, meaning) != meaning for name, meaning in self.aliases.items()) or bool(
            own & (other.functions | other.others))

    def collides(self, other):
        return self.troubles(other) or other.troubles(self)


@functools.cache
def header_of(name):
    for folder in ("src", "", "tests"):
        path = os.path.join(ROOT, folder, name)
        if os.path.exists(path):
            return Source(path)
    return None


def groups_of(sources):
    """Files that collide with most others first, each into the fullest group that takes it."""
    sources = [source for source in sources if not source.alone]
    collisions = {source.path: sum(source.collides(other) for other in sources if other is not source) for source in sources}
    groups = []
    for source in sorted(sources, key=lambda s: (-collisions[s.path], -s.lines, s.path)):
        fitting = [g for g in groups if sum(s.lines for s in g) + source.lines <= MOST_LINES and not any(source.collides(s) for s in g)]
        if fitting:
            max(fitting, key=lambda g: sum(s.lines for s in g)).append(source)
        else:
            groups.append([source])
    return groups


def main():
    targets = collections.defaultdict(list)
    with open(sys.argv[1], encoding="utf-8") as file:
        for line in file.read().splitlines():
            target, path = line.split("|")
            targets[target].append(path)
    for target, paths in targets.items():
        for number, group in enumerate(groups_of([Source(path) for path in paths])):
            for source in group if len(group) > 1 else []:
                print(f"{target}|{source.path}|{number}")


if __name__ == "__main__":
    main()
