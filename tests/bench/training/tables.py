"""What the C++ side and the fits share: sizes, read from the headers that state them, and tables of numbers, written as C++ source."""
import pathlib
import re

PROJECT = pathlib.Path(__file__).resolve().parents[3]
HEADERS = ("dsp/note_bank.h", "dsp/onset_model.h", "dsp/first_string.h", "src/judge/weighing.h", "src/judge/model.h")


def read_sizes(project=PROJECT):
    """{name: value} of every whole-number constant of the headers, their sums, products and whole quotients worked out."""
    sizes = {}
    for header in HEADERS:
        for name, sum_text in re.findall(r"^inline constexpr int (\w+) = ([^;]+);", (project / header).read_text(), re.M):
            terms = sum_text.replace("dsp::", "").replace("/", "//")
            if not re.fullmatch(r"[\w\s+*/()-]+", terms):
                raise ValueError(f"{header}: {name} = {sum_text}: only sums, products and quotients of whole numbers can be read")
            sizes[name] = eval(terms, {"__builtins__": {}}, sizes)
    return sizes


def literal(x):
    text = f"{x:.6g}"
    return text + ("F" if "." in text or "e" in text else ".0F")


def literals(values):
    return ", ".join(literal(x) for x in values)


def rows(matrix, gap):
    return (",\n" + gap).join(literals(row) for row in matrix)


def numbers(parameter):
    return parameter.detach().numpy()


def write_table(path, what, note, include, namespace, declaration, body):
    """A C++ source that defines one table. `body`: everything between its outer braces."""
    remark = f"// {note}\n" if note else ""
    pathlib.Path(path).write_text(
        f"// Coefficients of {what}, made by tests/bench/training; do not edit by hand.\n{remark}#include \"{include}\"\n\n"
        f"namespace {namespace} {{\n\n// clang-format off\nconst {declaration}{{\n{body}}};\n// clang-format on\n\n"
        f"}}  // namespace {namespace}\n")


def read_numbers(path):
    """All the coefficients of a table that write_table wrote, in their order."""
    body = pathlib.Path(path).read_text().split("// clang-format off")[1].split("// clang-format on")[0]
    return [float(x) for x in re.findall(r"(?<![\w.])-?\d+\.?\d*(?:e[-+]?\d+)?(?=F)", body)]
