import { IDBFactory } from "fake-indexeddb";
import { expect, test } from "vitest";
import { type JournalEntry, openJournal } from "./journal.ts";

const entry = (key: string, order: number, more: Partial<JournalEntry> = {}): JournalEntry => ({
  ...{ key, order, campaign: "cones", owner: "page", after: 4, edits: [], why: "typed" },
  ...more,
});
const keys = (entries: readonly JournalEntry[]) => entries.map(({ key, after }) => `${key}@${after}`);

test("entries come back in order, of one campaign alone, after the browser was closed", async () => {
  const browser = new IDBFactory();
  const journal = await openJournal(browser);
  await journal.add(entry("b", 2));
  await journal.add(entry("a", 1));
  await journal.add(entry("c", 1, { campaign: "scans" }));
  const again = await openJournal(browser);
  expect(keys(await again.read("cones"))).toEqual(["a@4", "b@4"]);
  expect(await again.campaigns()).toEqual(["cones", "scans"].sort());
});

test("what is acknowledged is gone, and what follows it follows the new revision; other pages' entries stay", async () => {
  const journal = await openJournal(new IDBFactory());
  const first = entry("a", 1);
  for (const own of [
    first,
    entry("b", 2),
    entry("x", 3, { owner: "another page" }),
    entry("y", 1, { campaign: "scans" }),
  ])
    await journal.add(own);
  await journal.acknowledge(first, 9);
  expect(keys(await journal.read("cones"))).toEqual(["b@9", "x@4"]);
  expect(keys(await journal.read("scans"))).toEqual(["y@4"]);
});

test("entries that were fitted to another's change take the place of those of their page", async () => {
  const journal = await openJournal(new IDBFactory());
  for (const own of [entry("a", 1), entry("b", 2), entry("x", 1, { owner: "another page" })]) await journal.add(own);
  await journal.replace("cones", "page", [entry("a2", 1, { after: 7 })]);
  expect(keys(await journal.read("cones")).sort()).toEqual(["a2@7", "x@4"]);
});

test("conflicts stay until they are settled", async () => {
  const browser = new IDBFactory();
  const conflict = { table: "background", reading: "b1", column: "signal_blue", base: "1", mine: "2", theirs: "3" };
  const journal = await openJournal(browser);
  expect(await journal.readConflicts("cones")).toEqual([]);
  await journal.keepConflicts("cones", [conflict]);
  expect(await (await openJournal(browser)).readConflicts("cones")).toEqual([conflict]);
  await journal.keepConflicts("cones", []);
  expect(await journal.readConflicts("cones")).toEqual([]);
});
