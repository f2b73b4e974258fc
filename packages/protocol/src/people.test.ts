import { describe, expect, it } from "vitest";
import { firstRequestSchema, loginRequestSchema, personSchema } from "./people.ts";

const first = { token: "a".repeat(43), id: "j.doe", name: "J. Doe", passphrase: "four words in a row" };

describe("people", () => {
  it("are known by a short id", () => {
    for (const id of ["j", "j.doe", "a-1", "0x"]) expect(personSchema.safeParse({ id, name: "J" }).success).toBe(true);
    for (const id of ["", "J", ".j", "j.", "j doe", "a".repeat(41), "j\u0000", "<b>", "é"])
      expect([id, personSchema.safeParse({ id, name: "J" }).success]).toEqual([id, false]);
  });

  it("have a name as people write names, but no control characters", () => {
    for (const name of ["J. Doe", "Ångström", "李", "O'Brien <script>"])
      expect([name, personSchema.safeParse({ id: "j", name }).success]).toEqual([name, true]);
    for (const name of ["", "  ", "a\nb", "a\u0000", "x".repeat(101)])
      expect([name, personSchema.safeParse({ id: "j", name }).success]).toEqual([name, false]);
  });

  it("choose a passphrase of 12 characters at least, and log in with whatever it is", () => {
    expect(firstRequestSchema.safeParse(first).success).toBe(true);
    expect(firstRequestSchema.safeParse({ ...first, passphrase: "elevenchars" }).success).toBe(false);
    expect(firstRequestSchema.safeParse({ ...first, passphrase: "x".repeat(1001) }).success).toBe(false);
    expect(loginRequestSchema.safeParse({ id: "j", passphrase: "short" }).success).toBe(true);
    expect(loginRequestSchema.safeParse({ id: "j", passphrase: "x".repeat(1001) }).success).toBe(false);
  });

  it("come by a token of 256 bits", () => {
    expect(firstRequestSchema.safeParse({ ...first, token: "a".repeat(42) }).success).toBe(false);
    expect(firstRequestSchema.safeParse({ ...first, token: `${"a".repeat(42)}/` }).success).toBe(false);
  });
});
