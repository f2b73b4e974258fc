import type { Campaign, Edit, Result, Visit } from "@alcedo-dosimetry/campaign";
import type { Figure } from "@alcedo-dosimetry/figures";
import type { Answer, Order, Outcome, Question, Replies, Reply, TraceView, WhatIf } from "./orders.ts";

/** The part of a web worker that is used. */
export interface WorkerLike {
  postMessage(order: Order): void;
  onmessage: ((event: MessageEvent<Answer>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

/** The engine as the page knows it. */
export interface EngineClient {
  /** The latest outcome that was told; undefined before the first. */
  readonly outcome: () => Outcome | undefined;
  readonly watch: (watcher: () => void) => () => void;
  readonly open: (campaign: Campaign) => void;
  readonly edit: (edits: readonly Edit[]) => void;
  /** Shows what would come of what is being typed; null ends it. */
  readonly draft: (edits: readonly Edit[] | null) => void;
  readonly trace: (id: string, path: readonly number[]) => Promise<TraceView | null>;
  readonly figures: (ids: readonly string[]) => Promise<readonly Figure[]>;
  readonly whatIf: (edits: readonly Edit[]) => Promise<WhatIf>;
  /** Where the server's result differs from this one first; null where it does not. */
  readonly sameAs: (result: Result) => Promise<string | null>;
  readonly visits: () => Promise<readonly Visit[]>;
  readonly close: () => void;
}

/** Speaks with the engine in its worker; outcomes older than the latest order are passed over. */
export function engineClient(worker: WorkerLike): EngineClient {
  let number = 0;
  let request = 0;
  let outcome: Outcome | undefined;
  const watchers = new Set<() => void>();
  const waiting = new Map<number, { resolve: (reply: Reply) => void; reject: (error: Error) => void }>();
  worker.onmessage = ({ data }) => {
    if ("outcome" in data) {
      outcome = kept(outcome, data.outcome);
      for (const watcher of watchers) watcher();
      return;
    }
    const asked = waiting.get(data.request);
    waiting.delete(data.request);
    if ("failed" in data) asked?.reject(new Error(data.failed));
    else asked?.resolve(data.reply);
  };
  worker.onerror = ({ message }) => {
    for (const { reject } of waiting.values()) reject(new Error(message));
    waiting.clear();
  };
  const ask = async <Kind extends keyof Replies>(kind: Kind, question: Question): Promise<Replies[Kind]> => {
    const reply = await new Promise<Reply>((resolve, reject) => {
      waiting.set(++request, { resolve, reject });
      worker.postMessage({ question, request });
    });
    if (reply.to !== kind) throw new Error(`the engine was asked for ${kind} and answered ${reply.to}`);
    return reply.is as Replies[Kind];
  };
  return {
    outcome: () => outcome,
    watch: (watcher) => {
      watchers.add(watcher);
      return () => watchers.delete(watcher);
    },
    open: (campaign) => worker.postMessage({ open: campaign, number: ++number }),
    edit: (edits) => worker.postMessage({ edits, number: ++number }),
    draft: (draft) => worker.postMessage({ draft, number: ++number }),
    trace: (trace, path) => ask("trace", { trace, path }),
    figures: (figures) => ask("figures", { figures }),
    whatIf: (edits) => ask("whatIf", { whatIf: edits }),
    sameAs: (result) => ask("sameAs", { sameAs: result }),
    visits: () => ask("visits", { visits: true }),
    close: () => worker.terminate(),
  };
}

/** The new outcome with the parts of the old one that have not changed, so that nothing is drawn again for nothing. */
export function kept(old: Outcome | undefined, now: Outcome): Outcome {
  return old === undefined ? now : (shared(old, now) as Outcome);
}

/** `now`, with every part that equals the one of `old` replaced by it; lists of things with an `id` match by it. */
function shared(old: unknown, now: unknown): unknown {
  if (Object.is(old, now)) return old;
  if (typeof old !== "object" || typeof now !== "object" || old === null || now === null) return now;
  if (Array.isArray(now)) {
    if (!Array.isArray(old)) return now;
    const before = old as readonly unknown[];
    const byId = new Map(before.map((part) => [idOf(part), part]));
    const parts = now.map((part, k) => shared(byId.get(idOf(part) ?? {}) ?? before[k], part));
    return parts.length === before.length && parts.every((part, k) => part === before[k]) ? old : parts;
  }
  const [a, b] = [old as Record<string, unknown>, now as Record<string, unknown>];
  const keys = Object.keys(b);
  const parts = Object.fromEntries(keys.map((key) => [key, shared(a[key], b[key])]));
  return keys.length === Object.keys(a).length && keys.every((key) => parts[key] === a[key]) ? old : parts;
}

function idOf(part: unknown): unknown {
  return typeof part === "object" && part !== null && "id" in part ? part.id : undefined;
}
