import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { errorCode, reasonOf } from "./system-error.ts";

const fault = (code: string) => Object.assign(new Error("x"), { code, syscall: "open" });

describe("errors of the operating system", () => {
  test("are told from faults of the program", () => {
    let missing: unknown;
    try {
      readFileSync("/nowhere/at/all");
    } catch (error) {
      missing = error;
    }
    expect(errorCode(missing)).toBe("ENOENT");
    for (const other of [
      new TypeError("x"),
      Object.assign(new Error("x"), { code: "ERR_INVALID_ARG_TYPE" }),
      undefined,
      "x",
    ])
      expect(errorCode(other)).toBeUndefined();
  });

  test("are said in words, the unknown ones by their code", () => {
    expect(reasonOf(fault("EACCES"))).toBe("permission is denied");
    expect(reasonOf(fault("ENOSPC"))).toBe("the disk is full");
    expect(reasonOf(fault("EXDEV"))).toBe("the system reports EXDEV");
  });
});
