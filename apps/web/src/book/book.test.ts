import { describe, expect, test } from "vitest";
import { createBook } from "./book.ts";
import { cell, FakeArchive, pageOn } from "./testing/fake-archive.ts";

function opened(archive = new FakeArchive()) {
  const { outbox } = pageOn(archive);
  return { archive, book: createBook(outbox) };
}
const rows = ({ book }: ReturnType<typeof opened>) => book.state().campaign.tables["background"]!.rows;

describe("taking back", () => {
  test("is a change of its own, and gives the same campaign again; so does making it again", async () => {
    const open = opened();
    const { book, archive } = open;
    const before = book.state().campaign;
    book.edit([cell(0, "signal_blue", "0.040")], "blue typed");
    book.edit([{ remove: { table: "background", at: 1, count: 1 } }], "b2 taken out");
    const after = book.state().campaign;
    expect(book.state().undoes).toBe("b2 taken out");
    expect([book.undo(), book.undo()]).toEqual([[], []]);
    expect(book.state().campaign).toEqual(before);
    expect(book.state().undoes).toBeUndefined();
    expect(book.state().redoes).toBe("blue typed");
    expect([book.redo(), book.redo()]).toEqual([[], []]);
    expect(book.state().campaign).toEqual(after);
    await book.settled();
    expect(archive.versions).toHaveLength(7);
    expect(archive.requests.map(({ why }) => why)).toEqual([
      ...["blue typed", "b2 taken out", "undo: b2 taken out", "undo: blue typed", "blue typed", "b2 taken out"],
    ]);
  });

  test("leaves a cell that somebody else changed since, and says so", async () => {
    const open = opened();
    const { book, archive } = open;
    book.edit([cell(0, "signal_blue", "0.040"), cell(1, "signal_blue", "0.041")], "two typed");
    await book.settled();
    archive.change(cell(0, "signal_blue", "0.050"));
    book.heard();
    await book.settled();
    const left = book.undo();
    expect(left.map(({ reading, theirs }) => [reading, theirs])).toEqual([["b1", "0.050"]]);
    expect(rows(open).map((row) => row[3])).toEqual(["0.050", "0.037"]);
  });

  test("finds its reading where somebody else put rows in above", async () => {
    const open = opened();
    const { book, archive } = open;
    book.edit([cell(1, "signal_blue", "0.041")], "typed");
    await book.settled();
    archive.change({ insert: { table: "background", at: 0, rows: [["b0", "before", "30", "0.030", "0.010"]] } });
    book.heard();
    await book.settled();
    expect(book.undo()).toEqual([]);
    expect(rows(open).map((row) => row[3])).toEqual(["0.030", "0.036", "0.037"]);
  });

  test("of nothing does nothing", () => {
    const { book } = opened();
    expect([book.undo(), book.redo()]).toEqual([[], []]);
    expect(book.state().waiting).toBe(0);
  });

  test("is forgotten forwards when something else is typed", () => {
    const { book } = opened();
    book.edit([cell(0, "signal_blue", "1")], "one");
    book.undo();
    book.edit([cell(0, "signal_blue", "2")], "two");
    expect(book.state().redoes).toBeUndefined();
    expect(book.redo()).toEqual([]);
  });

  test("stays as it was when a change does not fit", () => {
    const { book } = opened();
    book.edit([cell(0, "signal_blue", "1")], "one");
    expect(() => book.edit([cell(9, "signal_blue", "2")], "two")).toThrow("no row 10");
    expect(book.state().undoes).toBe("one");
  });
});

describe("a conflict", () => {
  async function conflicting() {
    const open = opened();
    open.archive.change(cell(0, "signal_blue", "0.050"));
    open.book.edit([cell(0, "signal_blue", "0.040")], "typed");
    await open.book.settled();
    return open;
  }

  test("is settled by the own value, which is then a change like any other", async () => {
    const open = await conflicting();
    const [conflict] = open.book.state().conflicts;
    open.book.choose(conflict!, "mine");
    await open.book.settled();
    expect(rows(open)[0]![3]).toBe("0.040");
    expect(open.archive.latest.campaign.tables["background"]!.rows[0]![3]).toBe("0.040");
    expect(open.book.state().conflicts).toEqual([]);
  });

  test("is settled by the other's value, which stands already", async () => {
    const open = await conflicting();
    open.book.choose(open.book.state().conflicts[0]!, "theirs");
    await open.book.settled();
    expect(rows(open)[0]![3]).toBe("0.050");
    expect(open.book.state().conflicts).toEqual([]);
    expect(open.archive.versions).toHaveLength(2);
  });
});

test("the state is the same object until something changes, as whoever watches it needs", async () => {
  const { book } = opened();
  expect(book.state()).toBe(book.state());
  book.edit([cell(0, "signal_blue", "1")], "one");
  expect(book.state()).toBe(book.state());
  await book.settled();
  expect(book.state()).toBe(book.state());
});
