import type { Edit } from "@alcedo-dosimetry/campaign";
import type { Signature } from "@alcedo-dosimetry/protocol";
import { type EngineClient, engineClient } from "../engine/engine-client.ts";
import { ask } from "../talk/ask.ts";
import { type Journal, type JournalEntry, openJournal } from "../talk/journal.ts";
import type { Live } from "../talk/live.ts";
import { type Book, createBook } from "./book.ts";
import { type KeptEvaluations, keepEvaluations } from "./kept-evaluations.ts";
import { createOutbox, type Outbox, type OutboxWorld, type Version } from "./outbox.ts";
import { holdOwner, livingOwners, OWNER } from "./page-owner.ts";

/** A campaign that is open on the page, with all that belongs to it. */
export interface OpenBook {
  readonly id: string;
  readonly book: Book;
  readonly engine: EngineClient;
  readonly kept: KeptEvaluations;
  /** Signatures that the campaign bore when it was opened, or heard of last. */
  readonly signed: () => readonly Signature[];
  readonly watch: (watcher: () => void) => () => void;
  /** Lets go of the engine; what waits to be sent goes on being sent. */
  readonly close: () => void;
}

let journal: Promise<Journal> | undefined;

/** The journal of this browser. */
export function theJournal(): Promise<Journal> {
  journal ??= openJournal().then((opened) => {
    holdOwner(OWNER);
    return opened;
  });
  return journal;
}

/** Opens a campaign: what a page that died left in the journal is sent first. */
export async function openBook(id: string, live: Live): Promise<OpenBook> {
  const own = await theJournal();
  const watchers = new Set<() => void>();
  /** What is made further down, and needed in what happens later. */
  const later: { kept?: KeptEvaluations; outbox?: Outbox } = {};
  const tell = () => {
    later.kept?.look(); // typing may have paused
    for (const watcher of watchers) watcher();
  };
  let signed: readonly Signature[] = [];
  const version = async (revision?: number): Promise<Version> => {
    const answer = await ask("campaign", { id, ...(revision !== undefined && { query: { revision } }) });
    if (revision === undefined) signed = answer.signed;
    return answer;
  };
  const engine = engineClient(new Worker(ENGINE_ADDRESS, { type: "module" }));
  const changed = (by: { readonly edits: readonly Edit[] } | "others" | "state") => {
    if (typeof by === "object") engine.edit(by.edits);
    else if (by === "others") engine.open(later.outbox!.state().campaign);
    tell();
  };
  const world = (owner: string, tellOf: OutboxWorld["changed"]): OutboxWorld => ({
    ...{ id, owner, journal: own, changed: tellOf },
    latest: () => version(),
    send: (body) => ask("edit", { id, body }),
    newKey: () => crypto.randomUUID(),
    wait: (ms) =>
      new Promise((resolve) => {
        setTimeout(resolve, ms);
      }),
  });
  // one after the other: each group was made to a version of its own
  for (const entries of await leftOver(own, id)) {
    const [{ owner, after }] = entries as [JournalEntry];
    const recovering = createOutbox(
      world(owner, () => undefined),
      await version(after),
      entries,
      await own.readConflicts(id),
    );
    await recovering.settled();
  }
  const outbox = createOutbox(world(OWNER, changed), await version(), [], await own.readConflicts(id));
  later.outbox = outbox;
  const book = createBook(outbox);
  engine.open(outbox.state().campaign);
  const stops = [
    engine.watch(tell),
    live.onEvent((event) => {
      if ("campaign" in event && event.campaign.id === id) book.heard(event.campaign.revision);
    }),
    live.onConnect(() => book.heard()),
  ];
  const keeping = keepEvaluations(id, book, engine, tell);
  later.kept = keeping;
  keeping.look();
  return {
    ...{ id, book, engine, kept: keeping },
    signed: () => signed,
    watch: (watcher) => {
      watchers.add(watcher);
      return () => watchers.delete(watcher);
    },
    close: () => {
      for (const stop of stops) stop();
      keeping.close();
      engine.close();
    },
  };
}

/** What pages that died have left for a campaign, page by page. */
async function leftOver(journal: Journal, id: string): Promise<readonly (readonly JournalEntry[])[]> {
  const entries = await journal.read(id);
  if (entries.length === 0) return [];
  const living = await livingOwners();
  const dead = entries.filter(({ owner }) => owner !== OWNER && !living.has(owner));
  return [...new Set(dead.map(({ owner }) => owner))].map((owner) => dead.filter((entry) => entry.owner === owner));
}
