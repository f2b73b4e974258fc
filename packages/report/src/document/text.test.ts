import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { codePointName, harmless, line, plainText, typeset, user } from "./text.ts";

describe("a formula as it is printed", () => {
  test.each([
    ["Ω_cone-5", ["Ω", "cone-5"]],
    ["k_vol,cone-5 / k_vol,100x100", ["k", "vol,cone-5", " / k", "vol,100x100"]],
    ["(S_100x100/2 + 1) · δ_ref)", ["(S", "100x100/2", " + 1) · δ", "ref", ")"]],
    [
      "−(a_green, the best q_1 + a_green·q_2 = I)",
      ["−(a", "green", ", the best q", "1", " + a", "green", "·q", "2", " = I)"],
    ],
    ["q̂_blue", ["q̂", "blue"]],
    ["0.5 · 2", ["0.5 · 2"]],
    ["", [""]],
  ])("%s", (formula, parts) => {
    expect(typeset(formula).map(({ text }) => text)).toEqual(parts);
  });

  test("loses nothing but the underscores", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme" }), (text) => {
        expect(plainText(typeset(text)).replaceAll("_", "")).toBe(text.replaceAll("_", ""));
      }),
    );
  });
});

describe("harmless text", () => {
  test.each([
    ["a\u202Eb", "a⟨U+202E⟩b"],
    ["a\u0000b", "a⟨U+0000⟩b"],
    ["one\r\ntwo\nthree", "one ↵ two ↵ three"],
    ["\uD800 alone", "⟨U+D800⟩ alone"],
    ["zero\u200Bwidth", "zero⟨U+200B⟩width"],
    ["می\u200Cخواهم", "می\u200Cخواهم"],
    ["1\u00A0mm", "1\u00A0mm"],
    ["שדה <b> & 'x'", "שדה <b> & 'x'"],
  ])("%j becomes %j", (text, expected) => {
    expect(harmless(text)).toBe(expected);
  });

  test("holds no control, no lone surrogate and nothing that turns the direction, whatever comes in", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        expect(harmless(text)).not.toMatch(/[\p{Cc}\p{Cs}\u202A-\u202E\u2066-\u2069]/u);
      }),
    );
  });
});

test("a character is named by its number", () => {
  expect(codePointName("é")).toBe("U+00E9");
  expect(codePointName("😀")).toBe("U+1F600");
});

test("a line is put together from words, runs and lists of runs", () => {
  expect(line("a", user("b"), [{ text: "c", tone: "sub" }])).toEqual([
    { text: "a" },
    { text: "b", tone: "user" },
    { text: "c", tone: "sub" },
  ]);
});
