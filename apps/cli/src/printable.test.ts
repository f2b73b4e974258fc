import { describe, expect, test } from "vitest";
import { jsonText } from "./json-output.ts";
import { printable } from "./printable.ts";

const HOSTILE = 'red \u001b[31m "quoted" \u009b2J \u202eback\u202c \u2066\u200f\u2069 end\n';

describe("texts from files", () => {
  test("cannot steer the terminal, and lose nothing", () => {
    expect(printable(HOSTILE)).toBe(
      'red \\u{1b}[31m "quoted" \\u{9b}2J \\u{202e}back\\u{202c} \\u{2066}\\u{200f}\\u{2069} end\\u{a}',
    );
    expect(printable("Ω of the 5 mm cone, 小")).toBe("Ω of the 5 mm cone, 小");
    expect(printable("x".repeat(500))).toHaveLength(500);
  });

  test("cannot steer it out of JSON either, where they stay what they are", () => {
    const text = jsonText({ title: HOSTILE });
    const codes = [...text].map((character) => character.charCodeAt(0));
    expect(codes.filter((code) => code < 0x0a || (code > 0x0a && code < 0x20))).toEqual([]);
    expect(codes.filter((code) => code === 0x200e || code === 0x200f || (code > 0x2065 && code < 0x206a))).toEqual([]);
    expect(codes.filter((code) => (code > 0x7e && code < 0xa0) || (code > 0x2027 && code < 0x202f))).toEqual([]);
    expect(JSON.parse(text)).toEqual({ title: HOSTILE });
  });
});
