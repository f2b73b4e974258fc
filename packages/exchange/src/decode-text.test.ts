import type { Finding } from "@alcedo-dosimetry/campaign";
import { toUtf8 } from "@alcedo-dosimetry/tabular";
import fc from "fast-check";
import { expect, test } from "vitest";
import { decodeText } from "./decode-text.ts";

const where = { file: "a.csv" };
const decode = (...bytes: number[]) => decodeText(Uint8Array.from(bytes), where);
const utf16 = (text: string) => Buffer.from(text, "utf16le");

test("UTF-8 is text, its byte-order mark left out and every kind of line end made one", () => {
  expect(decode(0xef, 0xbb, 0xbf, 0x61, 0xc3, 0xa9)).toBe("aé");
  expect(decodeText(toUtf8("a\r\nb\rc\n\r\nd"), where)).toBe("a\nb\nc\n\nd");
  expect(decode()).toBe("");
});

test("well-formed text comes back as it was, line ends aside", () => {
  const text = fc.string({ unit: "grapheme" }).filter((any) => !any.includes("\u0000") && !any.startsWith("\ufeff"));
  fc.assert(
    fc.property(text, (any) => {
      expect(decodeText(toUtf8(any), where)).toBe(any.replace(/\r\n?/g, "\n"));
    }),
  );
});

test.each([
  [
    "little-endian UTF-16 with its mark",
    Buffer.concat([Buffer.from([0xff, 0xfe]), utf16("reading")]),
    "text-utf16",
    "little-endian",
  ],
  ["big-endian UTF-16 with its mark", Buffer.from([0xfe, 0xff, 0, 0x61]), "text-utf16", "big-endian"],
  ["UTF-16 without a mark", utf16("reading,condition"), "text-utf16", "little-endian"],
  ["big-endian UTF-16 without a mark", Buffer.from(utf16("reading,condition")).swap16(), "text-utf16", "big-endian"],
  ["a zip archive", Buffer.from("PK\u0003\u0004rest"), "text-binary", "workbook"],
  ["an old workbook", Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1]), "text-binary", "older binary format"],
  ["data with a zero byte", Buffer.from("reading\u0000"), "text-binary", "byte 7 is zero"],
])("%s is told as what it is", (_, bytes, code, words) => {
  const finding = decodeText(new Uint8Array(bytes), where) as Finding;
  expect(finding).toMatchObject({ level: "error", code, where });
  expect(finding.message).toContain(words);
  expect(finding.remedy).toContain("UTF-8");
});

test("an older one-byte encoding is told by line and byte", () => {
  const latin1 = Buffer.from("reading,note\r\ns1,Gr\u00f6\u00dfe\r\n", "latin1");
  const finding = decodeText(new Uint8Array(latin1), where) as Finding;
  expect(finding).toMatchObject({ code: "text-not-utf8", where: { file: "a.csv", line: 2 }, facts: { byte: 19 } });
  expect(finding.message).toBe("a.csv, line 2: byte 19 (0xF6) is not valid UTF-8.");
});

test.each([
  ["CR", "a\rb\r"],
  ["LF", "a\nb\n"],
  ["CRLF", "a\r\nb\r\n"],
])("lines ended by %s are counted for the place of an invalid byte", (_, text) => {
  const finding = decodeText(new Uint8Array([...Buffer.from(text), 0xff]), where) as Finding;
  expect(finding.where?.line).toBe(3);
});

test("a text that UTF-8 cannot carry is refused, not altered", () => {
  expect(() => toUtf8("a\ud800b")).toThrow(/surrogate/);
  expect(toUtf8("😀")).toHaveLength(4);
});
