import { createHash } from "node:crypto";
import { expect, test } from "vitest";
import { FIRST_SEAL, sealOf, valueDigest } from "./seal.ts";

const revision = {
  ...{ seq: 1, at: "2026-03-14T08:00:00Z", who: "R. Tester", why: 'a "reason"', kind: "beam", subject: "B-é" },
  ...{ base: null, body: '{"b":1,"a":2}' },
};
/** Canonical JSON (RFC 8785) of that row, written out by hand: keys in order, no blanks, the body one text. */
const canonical =
  '{"at":"2026-03-14T08:00:00Z","base":null,"body":"{\\"b\\":1,\\"a\\":2}","kind":"beam","seq":1,"subject":"B-é","who":"R. Tester","why":"a \\"reason\\""}';

test("SEAL-1: a seal is SHA-256 over the seal before it and the row's canonical JSON", () => {
  // Outside value: the platform's own digest, over text that was written out by hand.
  const hash = createHash("sha256").update(FIRST_SEAL).update(canonical, "utf8").digest("hex");
  expect(sealOf(FIRST_SEAL, revision)).toBe(hash);
  expect(FIRST_SEAL).toMatch(/^0{64}$/);
});

test("SEAL-1: the seal depends on the seal before it and on every column", () => {
  const changes = [
    ...[{ seq: 2 }, { at: "" }, { who: "r. Tester" }, { why: "" }, { kind: "fibre" }, { subject: "B-e" }],
    ...[{ base: 1 }, { body: '{"a":2,"b":1}' }],
  ];
  const seals = changes.map((change) => sealOf(FIRST_SEAL, { ...revision, ...change }));
  seals.push(sealOf(FIRST_SEAL, revision), sealOf(FIRST_SEAL.replace(/0$/, "1"), revision));
  expect(new Set(seals).size).toBe(changes.length + 2);
});

test("a text that is not well-formed Unicode has no seal", () => {
  expect(() => sealOf(FIRST_SEAL, { ...revision, why: "\udc00" })).toThrow(/surrogate/i);
});

test("the digest of a value does not depend on the order of keys, and a value that is no JSON has none", () => {
  expect(valueDigest({ b: 1, a: [null] })).toBe(valueDigest({ a: [null], b: 1 }));
  expect(valueDigest({})).toBe(`sha256:${createHash("sha256").update("{}").digest("hex")}`);
  expect(() => valueDigest(undefined)).toThrow(/only a JSON value/);
  expect(() => valueDigest({ a: Number.NaN })).toThrow();
});
