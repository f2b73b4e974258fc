import { applyEdits, type Campaign, type Edit } from "@alcedo-dosimetry/campaign";
import { type EditsRequest, PROBLEMS, type ProblemKind } from "@alcedo-dosimetry/protocol";
import { ProblemError, UnreachableError } from "../../talk/ask.ts";
import type { Journal, JournalEntry } from "../../talk/journal.ts";
import { createOutbox, type Outbox, type Version } from "../outbox.ts";

/** An invented campaign of two readings. */
export const CAMPAIGN: Campaign = {
  descriptor: {
    name: "invented",
    alcedo: {
      version: 1,
      detector: { id: "F-1", channels: ["blue", "green"], signalUnit: "nC" },
      beam: { id: "B-1", modality: "photon", energy_MV: 6 },
    },
    resources: [{ name: "background", path: "background.csv", alcedo: { series: "background" } }],
  },
  tables: {
    background: {
      path: "background.csv",
      decimal: ".",
      columns: ["reading", "condition", "duration_s", "signal_blue", "signal_green"],
      rows: [
        ["b1", "before", "30", "0.036", "0.019"],
        ["b2", "before", "30", "0.037", "0.018"],
      ],
      lines: [2, 3],
    },
  },
};

/** Puts a text into a cell of the background. */
export const cell = (row: number, column: string, text: string): Edit => ({
  cell: { table: "background", row, column, text },
});

/** An error of the server. */
export function problem(
  kind: ProblemKind,
  more: { readonly revision?: number; readonly wait_s?: number } = {},
): ProblemError {
  const type = `urn:alcedo:problem:${kind}`;
  return new ProblemError({
    type,
    title: kind,
    status: PROBLEMS[kind],
    detail: `${kind}.`,
    remedy: "Mend it.",
    ...more,
  });
}

/** A server that keeps one campaign in memory, as the real one does: keys are answered as the first time. */
export class FakeArchive {
  readonly versions: Version[];
  readonly answered = new Map<string, { readonly body: string; readonly revision: number }>();
  readonly requests: EditsRequest[] = [];
  /** What goes wrong with the next requests, in order: before they arrive, or with the answer on its way back. */
  readonly mishaps: ("lost" | "answer lost" | ProblemError | undefined)[] = [];

  constructor(campaign: Campaign = CAMPAIGN) {
    this.versions = [{ revision: 1, campaign }];
  }

  get latest(): Version {
    return this.versions.at(-1)!;
  }

  /** Somebody else changes the campaign. */
  change(...edits: readonly Edit[]): void {
    this.versions.push({ revision: this.latest.revision + 1, campaign: applyEdits(this.latest.campaign, edits) });
  }

  send = async (request: EditsRequest): Promise<{ readonly revision: number }> => {
    await Promise.resolve();
    this.requests.push(request);
    const mishap = this.mishaps.shift();
    if (mishap === "lost") throw new UnreachableError();
    if (mishap instanceof ProblemError) throw mishap;
    const body = JSON.stringify([request.after, request.edits, request.why]);
    const before = this.answered.get(request.key);
    if (before && before.body !== body) throw problem("key-reused");
    if (!before) {
      if (request.after !== this.latest.revision) throw problem("conflict", { revision: this.latest.revision });
      this.change(...(request.edits as readonly Edit[]));
      this.answered.set(request.key, { body, revision: this.latest.revision });
    }
    if (mishap === "answer lost") throw new UnreachableError();
    return { revision: this.answered.get(request.key)!.revision };
  };
}

/** A journal in memory. */
export function memoryJournal(
  entries: JournalEntry[] = [],
): Journal & { readonly entries: () => readonly JournalEntry[] } {
  let held = entries;
  let conflicts: Awaited<ReturnType<Journal["readConflicts"]>> = [];
  const put = (entries: readonly JournalEntry[]) => {
    held = [...entries];
    return Promise.resolve();
  };
  return {
    entries: () => held,
    read: (campaign) =>
      Promise.resolve(held.filter((own) => own.campaign === campaign).sort((a, b) => a.order - b.order)),
    add: (entry) => put([...held, entry]),
    acknowledge: (entry, revision) =>
      put(
        held
          .filter(({ key }) => key !== entry.key)
          .map((own) => (own.owner === entry.owner ? { ...own, after: revision } : own)),
      ),
    replace: (_, owner, now) => put([...held.filter((own) => own.owner !== owner), ...now]),
    campaigns: () => Promise.resolve([...new Set(held.map(({ campaign }) => campaign))]),
    readConflicts: () => Promise.resolve(conflicts),
    keepConflicts: (_, now) => {
      conflicts = now;
      return Promise.resolve();
    },
  };
}

/** A page's outbox on such a server. */
export function pageOn(
  archive: FakeArchive,
  { owner = "page", journal = memoryJournal(), base = archive.latest, entries = [] as readonly JournalEntry[] } = {},
) {
  let key = 0;
  const changes: unknown[] = [];
  const waits: number[] = [];
  /** What was wrong at each wait. */
  const troubles: (string | undefined)[] = [];
  const outbox: Outbox = createOutbox(
    {
      ...{ id: "invented", owner, journal, send: archive.send },
      latest: () => Promise.resolve(archive.latest),
      newKey: () => `${owner}-${++key}`,
      wait: (ms) => {
        waits.push(ms);
        troubles.push(outbox.state().trouble);
        return Promise.resolve();
      },
      changed: (by) => changes.push(by),
    },
    base,
    entries,
  );
  return { outbox, journal, changes, waits, troubles };
}
