import { useEffect, useRef, useState, useSyncExternalStore } from "react";
import { live } from "../app/session.ts";
import type { Outcome } from "../engine/orders.ts";
import { errorWords } from "../talk/ask.ts";
import type { BookState } from "./book.ts";
import type { KeptEvaluation } from "./kept-evaluations.ts";
import { type OpenBook, openBook } from "./open-book.ts";

/** A campaign on its way to being open. */
export type Opening =
  | { readonly state: "loading" }
  | { readonly state: "failed"; readonly words: string; readonly again: () => void }
  | { readonly state: "open"; readonly open: OpenBook };

/** The one campaign that is open: its pages (chain, console, history, signing) share it. */
let current: { readonly id: string; readonly opening: Promise<OpenBook> } | undefined;

function opened(id: string): Promise<OpenBook> {
  if (current?.id !== id) {
    void current?.opening.then((book) => book.close()).catch(() => undefined); // it never opened, and said so then
    current = { id, opening: openBook(id, live()) };
  }
  return current.opening;
}

/** Opens a campaign for a page; pages that follow each other share it. */
export function useBook(id: string): Opening {
  const [opening, setOpening] = useState<Opening & { readonly id?: string }>({ state: "loading" });
  const [tries, setTries] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: each try opens anew
  useEffect(() => {
    let wanted = true;
    opened(id).then(
      (open) => wanted && setOpening({ state: "open", open, id }),
      (error: unknown) => {
        if (current?.id === id) current = undefined;
        const again = () => {
          setOpening({ state: "loading" });
          setTries((count) => count + 1);
        };
        if (wanted) setOpening({ state: "failed", words: errorWords(error), again, id });
      },
    );
    return () => {
      wanted = false;
    };
  }, [id, tries]);
  return opening.state !== "loading" && opening.id !== id ? { state: "loading" } : opening;
}

/** The open campaign as it is now. */
export function useBookState({ watch, book }: OpenBook): BookState {
  return useSyncExternalStore(watch, book.state);
}

/** What is known of the evaluation that the server keeps. */
export function useKept({ watch, kept }: OpenBook): KeptEvaluation | undefined {
  return useSyncExternalStore(watch, kept.latest);
}

/** What comes of the open campaign; undefined before the first evaluation. */
export function useOutcome({ engine }: OpenBook): Outcome | undefined {
  return useSyncExternalStore(engine.watch, engine.outcome);
}

/** The same function for as long as a component lives, which does what the latest rendering says. */
export function useSteady<Arguments extends readonly unknown[], Result>(
  work: (...given: Arguments) => Result,
): (...given: Arguments) => Result {
  const latest = useRef(work);
  useEffect(() => {
    latest.current = work;
  });
  return useRef((...given: Arguments) => latest.current(...given)).current;
}
