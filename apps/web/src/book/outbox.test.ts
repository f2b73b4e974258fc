import { describe, expect, test } from "vitest";
import type { JournalEntry } from "../talk/journal.ts";
import { type CAMPAIGN, cell, FakeArchive, memoryJournal, pageOn, problem } from "./testing/fake-archive.ts";

const blue = (campaign: typeof CAMPAIGN, row = 0) => campaign.tables["background"]!.rows[row]![3];
const green = (campaign: typeof CAMPAIGN, row = 0) => campaign.tables["background"]!.rows[row]![4];

describe("a change", () => {
  test("is there at once, waits until the server has it, and is then gone from the journal", async () => {
    const archive = new FakeArchive();
    const { outbox, journal, changes } = pageOn(archive);
    outbox.add([cell(0, "signal_blue", "0.040")], "typed");
    expect(blue(outbox.state().campaign)).toBe("0.040");
    expect(outbox.state()).toMatchObject({ waiting: 1, revision: 1 });
    expect(changes).toEqual([{ edits: [cell(0, "signal_blue", "0.040")] }]);
    await outbox.settled();
    expect(outbox.state()).toMatchObject({ waiting: 0, revision: 2 });
    expect(blue(archive.latest.campaign)).toBe("0.040");
    expect(journal.entries()).toEqual([]);
  });

  test("lies in the journal before it leaves", async () => {
    const archive = new FakeArchive();
    const journal = memoryJournal();
    const { outbox } = pageOn(
      {
        ...archive,
        latest: archive.latest,
        send: (request) => {
          expect(journal.entries().map(({ key }) => key)).toContain(request.key);
          return archive.send(request);
        },
      } as FakeArchive,
      { journal },
    );
    outbox.add([cell(0, "signal_blue", "0.040")], "typed");
    await outbox.settled();
    expect(archive.requests).toHaveLength(1);
  });

  test("waits for the one before it: one request at a time, in order, each after the last revision", async () => {
    const archive = new FakeArchive();
    const { outbox } = pageOn(archive);
    for (const text of ["1", "2", "3"]) outbox.add([cell(0, "signal_blue", text)], `typed ${text}`);
    expect(outbox.state().waiting).toBe(3);
    await outbox.settled();
    expect(archive.requests.map(({ after, why }) => [after, why])).toEqual([
      [1, "typed 1"],
      [2, "typed 2"],
      [3, "typed 3"],
    ]);
  });

  test("that does not fit is refused at once, and nothing is sent", async () => {
    const archive = new FakeArchive();
    const { outbox, journal } = pageOn(archive);
    expect(() => outbox.add([cell(9, "signal_blue", "1")], "typed")).toThrow("has no row 10");
    await outbox.settled();
    expect([archive.requests.length, outbox.state().waiting, journal.entries().length]).toEqual([0, 0, 0]);
  });
});

describe("a connection that breaks", () => {
  test("before the server hears: the change is sent again under the same key", async () => {
    const archive = new FakeArchive();
    archive.mishaps.push("lost", "lost");
    const { outbox, waits } = pageOn(archive);
    outbox.add([cell(0, "signal_blue", "0.040")], "typed");
    await outbox.settled();
    expect(archive.requests.map(({ key }) => key)).toEqual(["page-1", "page-1", "page-1"]);
    expect(archive.versions).toHaveLength(2);
    expect(waits).toEqual([500, 1000]);
    expect(outbox.state().trouble).toBeUndefined();
  });

  test("before the answer arrives: the change is made once", async () => {
    const archive = new FakeArchive();
    archive.mishaps.push("answer lost");
    const { outbox } = pageOn(archive);
    outbox.add([cell(0, "signal_blue", "0.040")], "typed");
    outbox.add([cell(1, "signal_blue", "0.041")], "typed");
    await outbox.settled();
    expect(archive.versions.map(({ revision }) => revision)).toEqual([1, 2, 3]);
    expect(outbox.state()).toMatchObject({ revision: 3, waiting: 0 });
  });

  test("is told while it lasts, with what the server says of a full disk, and typing goes on", async () => {
    const archive = new FakeArchive();
    archive.mishaps.push(problem("cannot-store"), problem("too-many", { wait_s: 7 }));
    const { outbox, waits, troubles } = pageOn(archive);
    outbox.add([cell(0, "signal_blue", "0.040")], "typed");
    await outbox.settled();
    expect(waits).toEqual([500, 7000]);
    expect(troubles).toEqual(["cannot-store. Mend it.", "too-many. Mend it."]);
    expect(outbox.state().trouble).toBeUndefined();
    expect(archive.versions).toHaveLength(2);
  });
});

describe("a page that died", () => {
  const left = (after: number, ...texts: string[]): JournalEntry[] =>
    texts.map((text, k) => ({
      ...{ key: `dead-${k + 1}`, campaign: "invented", owner: "dead", order: k + 1, after, why: `typed ${text}` },
      edits: [cell(0, "signal_blue", text)],
    }));

  test("before anything was sent: its entries are sent by the next page", async () => {
    const archive = new FakeArchive();
    const journal = memoryJournal(left(1, "1", "2"));
    const { outbox } = pageOn(archive, { owner: "dead", journal, entries: journal.entries() });
    expect(blue(outbox.state().campaign)).toBe("2");
    await outbox.settled();
    expect(blue(archive.latest.campaign)).toBe("2");
    expect(archive.versions).toHaveLength(3);
    expect(journal.entries()).toEqual([]);
  });

  test("after the server had the first: it is not made twice", async () => {
    const archive = new FakeArchive();
    const entries = left(1, "1", "2");
    await archive.send({ key: "dead-1", after: 1, edits: [...entries[0]!.edits], why: "typed 1" } as never);
    const { outbox } = pageOn(archive, {
      owner: "dead",
      base: archive.versions[0]!,
      entries,
      journal: memoryJournal(entries),
    });
    await outbox.settled();
    expect(archive.versions.map(({ campaign }) => blue(campaign))).toEqual(["0.036", "1", "2"]);
  });
});

describe("another person", () => {
  test("who changed another cell first: both changes stand, and neither has to be told", async () => {
    const archive = new FakeArchive();
    const { outbox } = pageOn(archive);
    archive.change(cell(0, "signal_green", "0.020"));
    outbox.add([cell(0, "signal_blue", "0.040")], "typed");
    await outbox.settled();
    expect([blue(archive.latest.campaign), green(archive.latest.campaign)]).toEqual(["0.040", "0.020"]);
    expect([blue(outbox.state().campaign), green(outbox.state().campaign)]).toEqual(["0.040", "0.020"]);
    expect(outbox.state().conflicts).toEqual([]);
  });

  test("who changed the same cell first: theirs stands, and both values are shown", async () => {
    const archive = new FakeArchive();
    const journal = memoryJournal();
    const { outbox } = pageOn(archive, { journal });
    archive.change(cell(0, "signal_blue", "0.050"));
    outbox.add([cell(0, "signal_blue", "0.040")], "typed");
    await outbox.settled();
    expect(blue(archive.latest.campaign)).toBe("0.050");
    expect(blue(outbox.state().campaign)).toBe("0.050");
    const conflict = {
      table: "background",
      reading: "b1",
      column: "signal_blue",
      base: "0.036",
      mine: "0.040",
      theirs: "0.050",
    };
    expect(outbox.state().conflicts).toEqual([conflict]);
    // it outlives the page
    expect(await journal.readConflicts("invented")).toEqual([conflict]);
    outbox.resolved(outbox.state().conflicts[0]!);
    await outbox.settled();
    expect(outbox.state().conflicts).toEqual([]);
    expect(await journal.readConflicts("invented")).toEqual([]);
  });

  test("who put a row in above: the change goes to the reading that it was made to", async () => {
    const archive = new FakeArchive();
    const { outbox } = pageOn(archive);
    archive.change({ insert: { table: "background", at: 0, rows: [["b0", "before", "30", "0.030", "0.010"]] } });
    outbox.add([cell(1, "signal_blue", "0.040")], "typed");
    await outbox.settled();
    expect(
      archive.latest.campaign.tables["background"]!.rows.map(([reading, , , signal]) => [reading, signal]),
    ).toEqual([
      ["b0", "0.030"],
      ["b1", "0.036"],
      ["b2", "0.040"],
    ]);
  });

  test("whose change is heard of comes onto the page; an own change that is heard of does nothing", async () => {
    const archive = new FakeArchive();
    const { outbox, changes } = pageOn(archive);
    archive.change(cell(0, "signal_green", "0.020"));
    outbox.heard(2);
    await outbox.settled();
    expect(green(outbox.state().campaign)).toBe("0.020");
    expect(outbox.state().revision).toBe(2);
    const count = changes.length;
    outbox.heard(2);
    await outbox.settled();
    expect(changes).toHaveLength(count);
  });

  test("is asked about when the connection is there again", async () => {
    const archive = new FakeArchive();
    const { outbox } = pageOn(archive);
    archive.change(cell(0, "signal_green", "0.020"));
    outbox.heard();
    await outbox.settled();
    expect(green(outbox.state().campaign)).toBe("0.020");
  });

  test("two pages that type at once lose nothing, whatever the order", async () => {
    const archive = new FakeArchive();
    const [a, b] = [pageOn(archive, { owner: "a" }), pageOn(archive, { owner: "b" })];
    for (let k = 0; k < 10; k++) {
      a.outbox.add([cell(0, "signal_blue", `a${k}`)], `a${k}`);
      b.outbox.add([cell(1, "signal_blue", `b${k}`)], `b${k}`);
      if (k % 3 === 0) await Promise.resolve();
    }
    await Promise.all([a.outbox.settled(), b.outbox.settled()]);
    a.outbox.heard();
    b.outbox.heard();
    await Promise.all([a.outbox.settled(), b.outbox.settled()]);
    const { campaign } = archive.latest;
    expect([blue(campaign, 0), blue(campaign, 1)]).toEqual(["a9", "b9"]);
    expect(a.outbox.state().campaign).toEqual(campaign);
    expect(b.outbox.state().campaign).toEqual(campaign);
    expect(archive.versions).toHaveLength(21);
  });
});

describe("a change that the server will never take", () => {
  test("stands in the way until it is taken back; what stands on it goes too, the rest is sent", async () => {
    const archive = new FakeArchive();
    archive.mishaps.push(problem("too-large"));
    const { outbox, journal } = pageOn(archive);
    outbox.add([{ insert: { table: "background", at: 2, rows: [["b3", "after", "30", "", ""]] } }], "too large");
    outbox.add([cell(2, "signal_blue", "0.040")], "on the row that is refused");
    outbox.add([cell(0, "signal_green", "0.020")], "elsewhere");
    await outbox.settled();
    expect(outbox.state()).toMatchObject({ refused: "too-large. Mend it.", waiting: 3 });
    outbox.giveUp();
    await outbox.settled();
    expect(outbox.state()).toMatchObject({ waiting: 0 });
    expect(outbox.state().refused).toBeUndefined();
    expect(green(archive.latest.campaign)).toBe("0.020");
    expect(archive.latest.campaign.tables["background"]!.rows).toHaveLength(2);
    expect(journal.entries()).toEqual([]);
  });
});
