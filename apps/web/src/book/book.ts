import { type Campaign, type CellConflict, type Edit, inverseOf, rebase } from "@alcedo-dosimetry/campaign";
import type { Outbox, OutboxState } from "./outbox.ts";
import { cellEditAt } from "./reading-place.ts";

/** A change that can be taken back. */
interface Step {
  readonly edits: readonly Edit[];
  readonly before: Campaign;
  readonly after: Campaign;
  readonly why: string;
}

/** The open campaign as the page sees it. */
export interface BookState extends OutboxState {
  /** What undo would take back, in words. */
  readonly undoes?: string;
  /** What redo would do again, in words. */
  readonly redoes?: string;
}

/** The campaign that is open on the page. */
export interface Book {
  readonly state: () => BookState;
  /**
   * Changes the campaign, at once; the rest happens by itself.
   *
   * @throws EditError where an edit does not fit; nothing is then done
   */
  readonly edit: (edits: readonly Edit[], why: string) => void;
  /** Takes the last change of this page back, as a new change; cells that others changed since stay theirs. */
  readonly undo: () => CellConflict[];
  readonly redo: () => CellConflict[];
  /** Settles a conflict: the person's own value, or the other's, which stands already. */
  readonly choose: (conflict: CellConflict, value: "mine" | "theirs") => void;
  readonly giveUp: () => void;
  readonly heard: (revision?: number) => void;
  readonly settled: () => Promise<void>;
}

/** So many changes can be taken back. */
const STEPS = 500;

/** The open campaign with its way back, on an outbox that brings its changes to the server. */
export function createBook(outbox: Outbox): Book {
  let done: readonly Step[] = [];
  let undone: readonly Step[] = [];
  let from: OutboxState | undefined;
  let state: BookState | undefined;

  const now = (): BookState => {
    const own = outbox.state();
    if (own !== from || state === undefined) {
      const [last, next] = [done.at(-1), undone.at(-1)];
      state = { ...own, ...(last && { undoes: last.why }), ...(next && { redoes: next.why }) };
      from = own;
    }
    return state;
  };
  /** Fits edits that were made to `before` to the campaign as it is, and makes them. */
  const make = (before: Campaign, edits: readonly Edit[], why: string) => {
    const { campaign } = outbox.state();
    const fitted = campaign === before ? { edits, conflicts: [] } : rebase(before, edits, campaign);
    if (fitted.edits.length > 0) outbox.add(fitted.edits, why);
    return { step: { edits: fitted.edits, before: campaign, after: outbox.state().campaign }, ...fitted };
  };
  return {
    state: now,
    edit: (edits, why) => {
      const before = outbox.state().campaign;
      // the way back must be there when the outbox tells of the change
      const stacks = [done, undone] as const;
      done = [...done, { edits, before, after: before, why }].slice(-STEPS);
      undone = [];
      from = undefined;
      try {
        outbox.add(edits, why);
      } catch (error) {
        [done, undone] = stacks;
        throw error;
      }
      done = [...done.slice(0, -1), { edits, before, after: outbox.state().campaign, why }];
    },
    undo: () => {
      const step = done.at(-1);
      if (!step) return [];
      done = done.slice(0, -1);
      undone = [...undone, step];
      from = undefined;
      return [...make(step.after, inverseOf(step.before, step.edits), `undo: ${step.why}`).conflicts];
    },
    redo: () => {
      const step = undone.at(-1);
      if (!step) return [];
      undone = undone.slice(0, -1);
      done = [...done, step];
      from = undefined;
      const made = make(step.before, step.edits, step.why);
      done = [...done.slice(0, -1), { ...made.step, why: step.why }];
      return [...made.conflicts];
    },
    choose: (conflict, value) => {
      if (value === "mine" && conflict.mine !== undefined) {
        const edit = cellEditAt(outbox.state().campaign, conflict, conflict.mine);
        if (edit) outbox.add([edit], `own value again: ${conflict.reading}, ${conflict.column}`);
      }
      outbox.resolved(conflict);
    },
    giveUp: outbox.giveUp,
    heard: outbox.heard,
    settled: outbox.settled,
  };
}
