import fc from "fast-check";
import { strToU8, zipSync } from "fflate";
import { describe, expect, test } from "vitest";
import { WorkbookFault } from "./workbook-fault.ts";
import { openZip } from "./zip-archive.ts";

const LIMIT = 1_000_000;
/** Of a fixed day: the time of day stands among the bytes, and from 14:24 to 14:31 one of them is an "s". */
const sample = (level: 0 | 6 = 6) =>
  zipSync(
    { "a.xml": strToU8("<a>some text, some text, some text</a>"), "b/c": strToU8("b") },
    { level, mtime: "2026-01-01T00:00:00" },
  );
const fault = (work: () => unknown) => {
  try {
    work();
  } catch (error) {
    if (error instanceof WorkbookFault) return `${error.kind}: ${error.message}`;
    throw error;
  }
  return "none";
};
/** Changes the first byte at which a pattern of four bytes begins, so far behind it. */
function patched(
  bytes: Uint8Array,
  signature: number,
  offset: number,
  change: (view: DataView, at: number) => void,
): Uint8Array {
  const copy = bytes.slice();
  const view = new DataView(copy.buffer);
  for (let at = 0; at + 4 <= copy.length; at++)
    if (view.getUint32(at, true) === signature) {
      change(view, at + offset);
      return copy;
    }
  throw new Error("there is no such record");
}
const ENTRY = 0x02014b50;

test.each([0, 6] as const)("parts are unpacked as they were, packed at level %i", (level) => {
  const archive = openZip(sample(level), LIMIT);
  expect(archive.names).toEqual(["a.xml", "b/c"]);
  expect(new TextDecoder().decode(archive.read("a.xml"))).toBe("<a>some text, some text, some text</a>");
  expect(archive.size("b/c")).toBe(1);
  expect([archive.has("b/c"), archive.has("__proto__"), archive.has("d")]).toEqual([true, false, false]);
});

describe("refused, with the reason:", () => {
  test("more bytes when unpacked than are allowed, told before anything is unpacked", () => {
    const bomb = zipSync({ "a.xml": new Uint8Array(2 * LIMIT) });
    expect(bomb.length).toBeLessThan(5000);
    expect(fault(() => openZip(bomb, LIMIT))).toBe("too-large: unpacked it has 2 MiB; at most 0 MiB are read");
  });

  test("a part that unpacks to more than it says", () => {
    const liar = patched(zipSync({ "a.xml": new Uint8Array(2 * LIMIT) }), ENTRY, 24, (view, at) =>
      view.setUint32(at, 10, true),
    );
    expect(fault(() => openZip(liar, LIMIT).read("a.xml"))).toMatch(
      /^damaged: .*a\.xml (cannot be unpacked|does not have its check sum)/,
    );
  });

  test("a part that does not have its check sum, or a changed digit in a stored one", () => {
    const wrong = patched(sample(), ENTRY, 16, (view, at) => view.setUint32(at, 1, true));
    expect(fault(() => openZip(wrong, LIMIT).read("a.xml"))).toContain("check sum");
    const stored = sample(0);
    stored[stored.indexOf(0x73)] = 0x74;
    expect(fault(() => openZip(stored, LIMIT).read("a.xml"))).toContain("check sum");
  });

  test("an encrypted part, an unknown way of packing, a part twice, a part that is missing", () => {
    const flagged = patched(sample(), ENTRY, 8, (view, at) => view.setUint16(at, 1, true));
    expect(fault(() => openZip(flagged, LIMIT).read("a.xml"))).toBe("encrypted: it is protected by a password");
    const method = patched(sample(), ENTRY, 10, (view, at) => view.setUint16(at, 12, true));
    expect(fault(() => openZip(method, LIMIT).read("a.xml"))).toContain("packed in a way that is not read here (12)");
    const two = zipSync({ aa: strToU8("1"), ab: strToU8("2") });
    const twice = two.map((byte, i) => (byte === 0x62 && two[i - 1] === 0x61 ? 0x61 : byte));
    expect(fault(() => openZip(twice, LIMIT))).toBe("twice: it has the part aa twice");
    expect(fault(() => openZip(sample(), LIMIT).read("z"))).toContain("its part z is missing");
  });

  test("an end that is cut off, and anything behind the end", () => {
    expect(fault(() => openZip(sample().subarray(0, -1), LIMIT))).toContain(
      "its end is missing, or something follows it",
    );
    expect(fault(() => openZip(Uint8Array.of(...sample(), 0), LIMIT))).toContain("something follows it");
  });
});

test("a symbolic link is told from a file, and a file of an archive from another system is none", () => {
  const attrs = (mode: number): [Uint8Array, { os: number; attrs: number }] => [
    strToU8("x"),
    { os: 3, attrs: mode << 16 },
  ];
  const archive = openZip(zipSync({ link: attrs(0o120777), file: attrs(0o100644), plain: strToU8("x") }), LIMIT);
  expect(["link", "file", "plain", "absent"].map((name) => archive.isLink(name))).toEqual([true, false, false, false]);
});

test("whatever byte is changed or cut off, it is the same content or a fault, never another content", () => {
  const bytes = sample();
  const content = (archive: Uint8Array) => {
    const opened = openZip(archive, LIMIT);
    return opened.names.map((name) => new TextDecoder().decode(opened.read(name)));
  };
  const right = content(bytes);
  fc.assert(
    fc.property(fc.nat(bytes.length - 1), fc.integer({ min: 1, max: 255 }), (at, change) => {
      const spoilt = bytes.map((byte, i) => (i === at ? byte ^ change : byte));
      try {
        expect(content(spoilt)).toEqual(right);
      } catch (error) {
        if (!(error instanceof WorkbookFault)) throw error;
      }
    }),
    { numRuns: 500 },
  );
});
