#!/usr/bin/env python3
"""Reads the facts off a 32-bit little-endian Arm Thumb or RISC-V program.

    elf.py flash FILE            bytes that lie in flash
    elf.py ram FILE              bytes of statics
    elf.py largest FILE COUNT    the largest functions and tables
    elf.py callers FILE WORD     who calls a function with WORD in its name
    elf.py allocators FILE       functions that hand out memory; exit code 1 where there is one
    elf.py stack FILE FUNCTION...
        worst-case stack of each function: the frames the compiler listed (.stack_sizes), summed along the
        deepest way through the calls decoded from the code. Recursion and calls through pointers have no
        bound here, and end in exit code 1.
"""

import bisect
import re
import struct
import sys

ARM = 40


class Program:
    def __init__(self, path):
        with open(path, "rb") as file:
            self.data = file.read()
        if self.data[:6] != b"\x7fELF\x01\x01":
            sys.exit(f"{path} is not a 32-bit little-endian ELF file")
        self.machine = struct.unpack_from("<H", self.data, 18)[0]
        at, size, count, names = struct.unpack_from("<I10xHHH", self.data, 32)[0], *struct.unpack_from("<HHH", self.data, 46)
        rows = [struct.unpack_from("<10I", self.data, at + n * size) for n in range(count)]
        text = lambda table, offset: self.data[table[4] + offset :].split(b"\0", 1)[0].decode()
        keys = ("name", "type", "flags", "address", "offset", "size", "link", "info", "align", "entry")
        self.sections = [dict(zip(keys, row)) for row in rows]
        for section in self.sections:
            section["name"] = text(rows[names], section["name"])
        self.symbols, marks = [], []
        for section in self.sections:
            if section["type"] != 2:
                continue
            for n in range(0, section["size"], 16):
                name, value, length, info, _, home = struct.unpack_from("<IIIBBH", self.data, section["offset"] + n)
                name = text(rows[section["link"]], name)
                if re.match(r"\$[adtx]", name):
                    marks.append((value, name[1]))
                elif info & 15 in (1, 2) and length:
                    self.symbols.append((value & ~1 if info & 15 == 2 else value, length, name, info & 15))
        self.marks = sorted(marks)
        self.functions = {}
        for address, length, name, kind in self.symbols:
            if kind == 2:
                self.functions.setdefault(address, (length, name))
        self.starts = sorted(self.functions)

    def bytes_in(self, wanted):
        return sum(s["size"] for s in self.sections if wanted(s))

    def section_bytes(self, section):
        return self.data[section["offset"] : section["offset"] + section["size"]]

    def function_at(self, address):
        place = bisect.bisect_right(self.starts, address) - 1
        if place >= 0 and address < self.starts[place] + self.functions[self.starts[place]][0]:
            return self.starts[place]
        return None

    def is_code(self, address):
        """Not a literal pool or a table between instructions, by the mapping symbols."""
        place = bisect.bisect_right(self.marks, (address, "z")) - 1
        return place < 0 or self.marks[place][1] != "d"

    def halves(self, start):
        """The function's code as half words."""
        end = start + self.functions[start][0]
        for section in self.sections:
            base = section["address"]
            if section["flags"] & 4 and base <= start < base + section["size"]:
                code = self.section_bytes(section)[start - base : end - base]
                return struct.unpack(f"<{len(code) // 2}H", code[: len(code) // 2 * 2])
        return ()


    def word(self, address):
        """The word there, in flash; None outside."""
        for section in self.sections:
            at = address - section["address"]
            if section["flags"] & 2 and section["type"] != 8 and 0 <= at <= section["size"] - 4:
                return struct.unpack_from("<I", self.data, section["offset"] + at)[0]
        return None


def short(name):
    """The readable words of a mangled name, the way there left out."""
    if not name.startswith(("_ZN", "_R")):
        return name
    words, rest = [], re.sub(r"s[0-9A-Za-z]*_(?=[1-9])", "", name)
    while match := re.search(r"(?<![0-9])([1-9][0-9]*)_?(?=[A-Za-z_])", rest):
        length = int(match[1])
        word, rest = rest[match.end() : match.end() + length], rest[match.end() + length :]
        if not re.fullmatch(r"h[0-9a-f]{16}", word):
            words.append(word)
    return "::".join(words[-3:]) or name


def signed(value, bits):
    return value - (1 << bits) if value >> (bits - 1) & 1 else value


def thumb(program, start):
    """(calls, pointer calls, bytes pushed) of one function."""
    calls, pointers, pushed = set(), 0, 0
    code, n = program.halves(start), 0
    while n < len(code):
        at, a = start + 2 * n, code[n]
        if not program.is_code(at):
            n += 1
            continue
        target = None
        if a >> 11 >= 0b11101:  # two half words
            b = code[n + 1] if n + 1 < len(code) else 0
            n += 2
            if a >> 11 == 0b11110 and b & 0x8000:
                sign, j1, j2 = a >> 10 & 1, b >> 13 & 1, b >> 11 & 1
                if b & 0x1000:  # bl, b.w
                    far = (sign << 24) | ((1 ^ j1 ^ sign) << 23) | ((1 ^ j2 ^ sign) << 22) | (a & 0x3FF) << 12 | (b & 0x7FF) << 1
                    target = at + 4 + signed(far, 25)
                elif a & 0x0380 != 0x0380:  # b<cond>.w; the rest of this corner is msr, dsb and their like
                    far = (sign << 20) | j2 << 19 | j1 << 18 | (a & 0x3F) << 12 | (b & 0x7FF) << 1
                    target = at + 4 + signed(far, 21)
            elif a == 0xE92D:  # push.w
                pushed += 4 * b.bit_count()
            elif a & 0xFFBF == 0xED2D:  # vpush
                pushed += 4 * (b & 0xFF)
            elif a & 0xFBFF in (0xF1AD, 0xF2AD) and b & 0x0F00 == 0x0D00:  # sub.w sp, subw sp
                number = (a >> 10 & 1) << 11 | (b >> 12 & 7) << 8 | b & 0xFF
                if a & 0x0200 or number < 0x100:
                    pushed += number
                elif number >> 10:  # eight bits, the top one set, rotated into place
                    turn = number >> 7
                    pushed += (number & 0x7F | 0x80) << (32 - turn)
        else:
            n += 1
            if a & 0xF800 == 0xE000:  # b
                target = at + 4 + signed(a & 0x7FF, 11) * 2
            elif a & 0xF000 == 0xD000 and a >> 8 & 15 < 14:  # b<cond>
                target = at + 4 + signed(a & 0xFF, 8) * 2
            elif a & 0xFF87 == 0x4780 or (a & 0xFF87 == 0x4700 and a != 0x4770):  # blx, bx, but not to lr
                pointers += 1
            elif a & 0xFE00 == 0xB400:  # push
                pushed += 4 * (a & 0x1FF).bit_count()
            elif a & 0xFF80 == 0xB080:  # sub sp
                pushed += 4 * (a & 0x7F)
        if target is not None:
            calls.add((target, at))
    return calls, pointers, pushed


def riscv(program, start):
    """(calls, pointer calls, bytes pushed) of one function."""
    calls, pointers, pushed = set(), 0, 0
    code, n, upper, high = program.halves(start), 0, {}, {}
    # A jump to a register is a jump table's if the function has named one, a table of addresses in itself, or else the
    # function's last call: that gives the frame back first.
    given_back = tables = False
    inside = range(start, start + program.functions[start][0])
    while n < len(code):
        at, a = start + 2 * n, code[n]
        if a & 3 != 3:  # compressed
            n += 1
            low, kind = a & 3, a >> 13
            if low == 1 and kind in (1, 5):  # c.jal, c.j
                bit = lambda place: a >> place & 1
                far = bit(12) << 11 | bit(8) << 10 | (a >> 9 & 3) << 8 | bit(6) << 7 | bit(7) << 6 | bit(2) << 5 | bit(11) << 4 | (a >> 3 & 7) << 1
                calls.add((at + signed(far, 12), at))
            elif low == 2 and kind == 4 and not a & 0x7C and a >> 7 & 31:  # c.jr, c.jalr
                register = a >> 7 & 31
                if register in upper:
                    calls.add((upper[register], at))
                elif a & 0x1000 or (register != 1 and (given_back or not tables)):
                    pointers += 1
                given_back = False
            elif low == 1 and kind == 3 and a >> 7 & 31 != 2:  # c.lui
                high[a >> 7 & 31] = signed((a >> 12 & 1) << 17 | (a >> 2 & 31) << 12, 18) & 0xFFFFFFFF
            elif low == 1 and kind == 3:  # c.addi16sp
                amount = (a >> 12 & 1) << 9 | (a >> 3 & 3) << 7 | (a >> 5 & 1) << 6 | (a >> 2 & 1) << 5 | (a >> 6 & 1) << 4
                pushed += max(0, -signed(amount, 10))
                given_back = signed(amount, 10) > 0
            elif low == 1 and kind == 0 and a >> 7 & 31 == 2:  # c.addi sp
                amount = signed((a >> 12 & 1) << 5 | a >> 2 & 31, 6)
                pushed += max(0, -amount)
                given_back = amount > 0
            continue
        word = a | (code[n + 1] if n + 1 < len(code) else 0) << 16
        n += 2
        operation, rd, rs = word & 0x7F, word >> 7 & 31, word >> 15 & 31
        if operation == 0x17:  # auipc
            upper[rd] = at + signed(word & 0xFFFFF000, 32)
        elif operation == 0x67:  # jalr
            if rs in upper:
                calls.add(((upper[rs] + signed(word >> 20, 12)) & 0xFFFFFFFF, at))
            elif rd or (rs != 1 and (given_back or not tables)):
                pointers += 1
            upper.pop(rs, None)
            given_back = False
        elif operation == 0x6F:  # jal
            far = (word >> 31) << 20 | (word >> 12 & 0xFF) << 12 | (word >> 20 & 1) << 11 | (word >> 21 & 0x3FF) << 1
            calls.add((at + signed(far, 21), at))
        elif operation == 0x37:  # lui
            high[rd] = word & 0xFFFFF000
        elif operation == 0x13 and word >> 12 & 7 == 0 and rs in high and program.word(high[rs] + signed(word >> 20, 12)) in inside:
            tables = True
        elif operation == 0x13 and rd == 2 and rs == 2 and word >> 12 & 7 == 0:  # addi sp, sp
            pushed += max(0, -signed(word >> 20, 12))
            given_back = signed(word >> 20, 12) > 0
    return calls, pointers, pushed


class Graph:
    def __init__(self, program):
        self.program, self.edges, self.pointers, self.frames = program, {}, {}, {}
        decode = thumb if program.machine == ARM else riscv
        for start in program.starts:
            calls, pointers, pushed = decode(program, start)
            inside = range(start, start + program.functions[start][0])
            self.edges[start] = set()
            for target, _ in calls:
                # to its own start is recursion only if it is a call; a loop back to the start has no frame to build
                if target not in inside:
                    self.edges[start].add(program.function_at(target))
            self.pointers[start], self.frames[start] = pointers, pushed
        # what the compiler says beats what the code looks like; one address may have several names
        for section in program.sections:
            if section["name"] == ".stack_sizes":
                self.frames.update(self.listed(program.section_bytes(section)))

    def listed(self, table):
        at, frames = 0, {}
        while at + 5 <= len(table):
            address, at = struct.unpack_from("<I", table, at)[0] & ~1, at + 4
            value = shift = 0
            while True:
                byte, at = table[at], at + 1
                value, shift = value | (byte & 0x7F) << shift, shift + 7
                if byte < 0x80:
                    break
            frames[address] = max(value, frames.get(address, 0))
        return frames

    def bound(self, start, above=(), known=None):
        """(bytes, deepest way); raises ValueError where there is no bound."""
        known = {} if known is None else known
        name = lambda f: "code outside any function" if f is None else short(self.program.functions[f][1])
        if start in known:
            return known[start]
        if start in above:
            raise ValueError("recursion: " + " > ".join(map(name, above[above.index(start) :] + (start,))))
        if start is None:
            raise ValueError("a jump out of " + name(above[-1]) + " to no function")
        if self.pointers[start]:
            raise ValueError("a call through a pointer in " + " > ".join(map(name, above + (start,))))
        deepest = max((self.bound(f, above + (start,), known) for f in self.edges[start]), default=(0, ()))
        known[start] = (self.frames[start] + deepest[0], (f"{name(start)} {self.frames[start]}",) + deepest[1])
        return known[start]


def main(command, path, *rest):
    program = Program(path)
    allocated = lambda s: s["flags"] & 2
    if command == "flash":
        print(program.bytes_in(lambda s: allocated(s) and s["type"] != 8))
    elif command == "ram":
        print(program.bytes_in(lambda s: s["name"] in (".data", ".bss")))
    elif command == "largest":
        for _, length, name, _ in sorted(program.symbols, key=lambda s: -s[1])[: int(rest[0])]:
            print(f"     {length:6} {short(name)}")
    elif command == "callers":
        graph = Graph(program)
        for start, called in graph.edges.items():
            names = [short(program.functions[f][1]) for f in called if f is not None]
            for name in names:
                if rest[0] in name and rest[0] not in short(program.functions[start][1]):
                    print(f"     {short(program.functions[start][1])} calls {name}")
    elif command == "allocators":
        # Rust's own entry points, whatever stands behind them, anything of its crate alloc, and C's
        found = sorted({s[2] for s in program.symbols if re.search(r"__rust_\w*alloc|__r[dg]l?_\w*alloc|_?5alloc\d|^\w*[mc]alloc$|^realloc$|^_?sbrk", s[2])})
        for name in found:
            print(f"     {name}")
        sys.exit(bool(found))
    elif command == "stack":
        graph, failed = Graph(program), False
        by_name = {name: start for start, (_, name) in program.functions.items()}
        for wanted in rest:
            try:
                if wanted not in by_name:
                    raise ValueError("no such function")
                size, way = graph.bound(by_name[wanted])
                print(f"{wanted} bound={size}: {' > '.join(way)}")
            except ValueError as error:
                print(f"{wanted} bound=unknown: {error}")
                failed = True
        sys.exit(failed)
    else:
        sys.exit(__doc__)


if len(sys.argv) < 3:
    sys.exit(__doc__)
main(*sys.argv[1:])
