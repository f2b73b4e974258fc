import { expect, test } from "vitest";
import { crc32 } from "./crc32.ts";

test("the check value of CRC-32 (ISO 3309, as catalogues of check sums give it) is that of the nine digits", () =>
  expect(crc32(new TextEncoder().encode("123456789"))).toBe(0xcbf43926));

test("nothing has the check sum zero, and one bit changes it", () => {
  expect(crc32(new Uint8Array())).toBe(0);
  expect(crc32(Uint8Array.of(0))).not.toBe(crc32(Uint8Array.of(1)));
});
