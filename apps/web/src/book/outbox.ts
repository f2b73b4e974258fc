import { applyEdits, type Campaign, type CellConflict, type Edit, EditError, rebase } from "@alcedo-dosimetry/campaign";
import { type EditsRequest, problemKind } from "@alcedo-dosimetry/protocol";
import { errorWords, ProblemError, UnreachableError } from "../talk/ask.ts";
import type { Journal, JournalEntry } from "../talk/journal.ts";

/** A campaign as a revision left it. */
export interface Version {
  readonly revision: number;
  readonly campaign: Campaign;
}

/** What the outbox needs from outside. */
export interface OutboxWorld {
  readonly id: string;
  /** Of this page. */
  readonly owner: string;
  readonly journal: Journal;
  readonly latest: () => Promise<Version>;
  readonly send: (request: EditsRequest) => Promise<{ readonly revision: number }>;
  readonly newKey: () => string;
  readonly wait: (ms: number) => Promise<void>;
  /** Something is different now: after own edits, these; else another campaign as a whole. */
  readonly changed: (by: { readonly edits: readonly Edit[] } | "others" | "state") => void;
}

/** How the campaign stands between page and server. */
export interface OutboxState {
  /** With everything that was typed, acknowledged or not. */
  readonly campaign: Campaign;
  /** The newest revision of the server that is in it. */
  readonly revision: number;
  /** Changes that the server has not on its disk yet. */
  readonly waiting: number;
  /** Why they wait, where something is wrong; they are sent again by themselves. */
  readonly trouble?: string;
  /** The server will never take the first waiting change: why. Somebody must take it back. */
  readonly refused?: string;
  /** Cells that somebody else changed as well: theirs stands, until the person chooses. */
  readonly conflicts: readonly CellConflict[];
}

/** See {@link createOutbox}. */
export interface Outbox {
  readonly state: () => OutboxState;
  /** @throws EditError where an edit does not fit; nothing is then done */
  readonly add: (edits: readonly Edit[], why: string) => void;
  /** The server has said that there is such a revision; without one: it may have gone on unheard. */
  readonly heard: (revision?: number) => void;
  /** Takes the refused change back. */
  readonly giveUp: () => void;
  readonly resolved: (conflict: CellConflict) => void;
  /** When everything that waits now has been sent, or cannot be. */
  readonly settled: () => Promise<void>;
}

/** First and longest pause before a change is sent again, in ms. */
const PAUSE = { first: 500, longest: 15_000 };

/** Problems that sending again may mend. */
const PASSING: ReadonlySet<string | undefined> = new Set([
  ...["not-logged-in", "too-many", "program-fault", "cannot-store", "unavailable", "wrong-host"],
]);

/**
 * Changes on their way to the server: made at once on the page, written into the journal, sent one at a time and in order,
 * sent again under the same key until they are acknowledged, and fitted to what others have changed meanwhile.
 *
 * @param entries left over from a page that died: `base` must be the version that the first of them was made to
 * @param open conflicts that wait for somebody to choose
 */
export function createOutbox(
  world: OutboxWorld,
  base: Version,
  entries: readonly JournalEntry[] = [],
  open: readonly CellConflict[] = [],
): Outbox {
  const { id, owner, journal } = world;
  let queue = [...entries];
  let campaign = queue.reduce((before, { edits }) => applyEdits(before, edits), base.campaign);
  let conflicts = open;
  let trouble: string | undefined;
  let refused: string | undefined;
  let heardOf = 0;
  let pause = PAUSE.first;
  let running: Promise<void> | undefined;
  /** What was last written to the journal; the next writing waits for it, so that they keep their order. */
  let written: Promise<void> = Promise.resolve();
  let state = stateNow();

  function stateNow(): OutboxState {
    return {
      ...{ campaign, revision: base.revision, waiting: queue.length, conflicts },
      ...(trouble !== undefined && { trouble }),
      ...(refused !== undefined && { refused }),
    };
  }
  const tell = (by: Parameters<OutboxWorld["changed"]>[0]) => {
    state = stateNow();
    world.changed(by);
  };
  const write = (work: () => Promise<void>) => {
    written = written.then(work).catch((error: unknown) => {
      // without a journal the change is still sent; it would only not outlive the page
      trouble = `The browser's journal does not write (${errorWords(error)}): keep this page open until everything is on disk.`;
      tell("state");
    });
  };

  const fit = (theirs: Version) => {
    let before = base.campaign;
    let after = theirs.campaign;
    const fitted: JournalEntry[] = [];
    const found: CellConflict[] = [];
    for (const entry of queue) {
      const mine = rebase(before, entry.edits, after);
      before = applyEdits(before, entry.edits);
      after = applyEdits(after, mine.edits);
      found.push(...mine.conflicts);
      if (mine.edits.length > 0)
        fitted.push({ ...entry, key: world.newKey(), after: theirs.revision, edits: mine.edits });
    }
    base = theirs;
    queue = fitted;
    campaign = after;
    if (found.length > 0) {
      conflicts = [...conflicts.filter((old) => !found.some((own) => samePlace(own, old))), ...found];
      write(() => journal.keepConflicts(id, conflicts));
    }
    write(() => journal.replace(id, owner, fitted));
    tell("others");
  };

  const sendFirst = async (entry: JournalEntry) => {
    await written; // before it leaves, it lies in the journal
    const { key, after, edits, why } = entry;
    try {
      const { revision } = await world.send({ key, after, edits: [...edits], why } as EditsRequest);
      base = { revision, campaign: applyEdits(base.campaign, edits) };
      queue = queue.filter((other) => other !== entry).map((other) => ({ ...other, after: revision }));
      write(() => journal.acknowledge(entry, revision));
      trouble = undefined;
      pause = PAUSE.first;
      tell("state");
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      const kind = problemKind(error.problem);
      if (kind === "conflict") fit(await world.latest());
      else if (PASSING.has(kind)) throw error;
      else {
        refused = errorWords(error);
        tell("state");
      }
    }
  };

  const run = async () => {
    for (;;) {
      try {
        while (queue.length > 0 && refused === undefined) await sendFirst(queue[0]!);
        if (refused !== undefined || heardOf <= base.revision) return;
        const theirs = await world.latest();
        heardOf = Math.min(heardOf, theirs.revision);
        if (theirs.revision > base.revision) fit(theirs);
        if (trouble !== undefined) {
          trouble = undefined;
          tell("state");
        }
      } catch (error) {
        if (!(error instanceof ProblemError || error instanceof UnreachableError)) throw error;
        trouble = errorWords(error);
        tell("state");
        const asked_ms = error instanceof ProblemError ? 1000 * (error.problem.wait_s ?? 0) : 0;
        await world.wait(Math.max(pause, asked_ms));
        pause = Math.min(2 * pause, PAUSE.longest);
      }
    }
  };
  const start = () => {
    running ??= run().finally(() => {
      running = undefined;
    });
  };

  if (queue.length > 0) start();
  return {
    state: () => state,
    add: (edits, why) => {
      campaign = applyEdits(campaign, edits);
      const order = (queue.at(-1)?.order ?? 0) + 1;
      const entry = { key: world.newKey(), campaign: id, owner, order, after: base.revision, edits, why };
      queue = [...queue, entry];
      write(() => journal.add(entry));
      tell({ edits });
      start();
    },
    heard: (revision = Number.POSITIVE_INFINITY) => {
      heardOf = Math.max(heardOf, revision);
      pause = PAUSE.first;
      if (heardOf > base.revision) start();
    },
    giveUp: () => {
      if (refused === undefined) return;
      refused = undefined;
      const [, ...rest] = queue;
      queue = [];
      campaign = base.campaign;
      for (const entry of rest) {
        // what stood on the change that is taken back goes with it
        const next = attempt(campaign, entry.edits);
        if (!next) continue;
        campaign = next;
        queue.push({ ...entry, key: world.newKey(), after: base.revision });
      }
      write(() => journal.replace(id, owner, queue));
      tell("others");
      start();
    },
    resolved: (conflict) => {
      conflicts = conflicts.filter((other) => !samePlace(other, conflict));
      write(() => journal.keepConflicts(id, conflicts));
      tell("state");
    },
    settled: async () => {
      while (running !== undefined) await running;
      await written;
    },
  };
}

const samePlace = (a: CellConflict, b: CellConflict) =>
  a.table === b.table && a.reading === b.reading && a.column === b.column;

function attempt(campaign: Campaign, edits: readonly Edit[]): Campaign | undefined {
  try {
    return applyEdits(campaign, edits);
  } catch (error) {
    if (error instanceof EditError) return undefined;
    throw error;
  }
}
