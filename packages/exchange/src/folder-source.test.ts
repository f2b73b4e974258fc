import { expect, test } from "vitest";
import { memoryFolder } from "./folder-source.ts";

test("a folder in memory lists, sizes and reads its files", () => {
  const folder = memoryFolder("m", new Map([["a/b.csv", Uint8Array.from([1, 2, 3])]]));
  expect(folder.name).toBe("m");
  expect(folder.list()).toEqual(["a/b.csv"]);
  expect(folder.size("a/b.csv")).toBe(3);
  expect([...folder.read("a/b.csv")]).toEqual([1, 2, 3]);
});

test("a file that it does not hold has no size and cannot be read", () => {
  const folder = memoryFolder("m", new Map());
  expect(folder.size("x")).toBeUndefined();
  expect(() => folder.read("x")).toThrow("no such file");
});
