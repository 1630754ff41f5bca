#!/usr/bin/env python3
"""Files whose private names would mean something in one another are never compiled as one (tests/support/unity_groups.py)."""
import os
import sys
import tempfile
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "support"))
from unity_groups import Source, groups_of  # noqa: E402

CALLS = "int use() { return write_file(1, 2); }\n"


class Groups(unittest.TestCase):
    def together(self, *texts):
        with tempfile.TemporaryDirectory() as folder:
            sources = []
            for number, text in enumerate(texts):
                path = os.path.join(folder, f"{number}.cpp")
                with open(path, "w", encoding="utf-8") as file:
                    file.write("namespace gripline {\n" + text + "}\n")
                sources.append(Source(path))
            return len(groups_of(sources)) == 1

    def test_files_without_private_names_are_compiled_together(self):
        self.assertTrue(self.together("int one() { return 1; }\n", CALLS))

    def test_a_private_function_keeps_away_from_callers_of_another_of_its_name(self):
        self.assertFalse(self.together("namespace {\nint write_file(int) { return 1; }\n}\n", CALLS))

    def test_so_does_a_private_function_template(self):
        self.assertFalse(self.together("namespace {\ntemplate <class Write>\nint write_file(Write write) { return write(); }\n}\n", CALLS))
        self.assertFalse(self.together("namespace {\ntemplate <class T, template <class> class U = V<W<T>>>\nint write_file(T, U<T>) { return 0; }\n}\n", CALLS))

    def test_and_a_private_type(self):
        self.assertFalse(self.together("namespace {\nstruct Row { int n; };\n}\n", "struct Row { long n; };\n"))


if __name__ == "__main__":
    unittest.main()
