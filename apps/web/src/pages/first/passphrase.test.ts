import { describe, expect, test } from "vitest";
import { faultsOf, proposedId } from "./passphrase.ts";

const good = { name: "Jo Doe", id: "j.doe", passphrase: "invented words in a row", again: "invented words in a row" };

describe("what somebody new fills in", () => {
  test("is right as it is", () => expect(faultsOf(good)).toEqual({}));

  test.each([
    [{ name: "  " }, "name", "Write your name"],
    [{ id: "J Doe" }, "id", "It must have 1 to 40 characters"],
    [{ id: "" }, "id", "It must have 1 to 40 characters"],
    [{ passphrase: "short", again: "short" }, "passphrase", "At least 12 characters"],
    [{ again: "invented words in a raw" }, "again", "The two are not the same."],
  ] as const)("%j is told of at %s", (change, field, words) => {
    const faults = faultsOf({ ...good, ...change });
    expect(Object.keys(faults)).toEqual([field]);
    expect(faults[field]).toContain(words);
  });

  test("counts characters as people do: twelve kingfishers are enough, though each is two units of text", () => {
    const birds = "🐦".repeat(12);
    expect(faultsOf({ ...good, passphrase: birds, again: birds })).toEqual({});
    const fewer = "🐦".repeat(11);
    expect(faultsOf({ ...good, passphrase: fewer, again: fewer }).passphrase).toBeDefined();
  });
});

test.each([
  ["Jo Doe", "jo.doe"],
  ["Ana María Doe-Øre", "ana.maria.doe.re"],
  ["  ", ""],
  ["שם", ""],
  ["x".repeat(60), "x".repeat(40)],
])("for the name %j the id %j is proposed", (name, id) => expect(proposedId(name)).toBe(id));
