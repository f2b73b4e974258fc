import type { AnswerOf } from "@alcedo-dosimetry/protocol";
import { useSyncExternalStore } from "react";
import { ask, errorWords, onLoggedOut, ProblemError } from "../talk/ask.ts";
import { type Live, listen } from "../talk/live.ts";

/** Who works here. */
type Me = AnswerOf<"me">;

/** Whether somebody is logged in. */
export type Session =
  | { readonly state: "asking" }
  | { readonly state: "unreachable"; readonly words: string }
  | { readonly state: "out" }
  | { readonly state: "in"; readonly me: Me };

let session: Session = { state: "asking" };
const watchers = new Set<() => void>();
let listening: Live | undefined;

function become(next: Session): void {
  session = next;
  for (const watcher of watchers) watcher();
}

onLoggedOut(() => {
  if (session.state === "in") become({ state: "out" });
});

/** Asks the server who is logged in: at the start, and after a login. */
export async function refreshMe(): Promise<void> {
  try {
    become({ state: "in", me: await ask("me") });
  } catch (error) {
    if (error instanceof ProblemError && error.problem.status === 401) become({ state: "out" });
    else become({ state: "unreachable", words: errorWords(error) });
  }
}

/** Logs out. */
export async function logOut(): Promise<void> {
  await ask("logout");
  listening?.close();
  listening = undefined;
  become({ state: "out" });
}

/** The server's events, for whoever is logged in. */
export function live(): Live {
  listening ??= listen();
  return listening;
}

/** Who is logged in, for a component. */
export function useSession(): Session {
  return useSyncExternalStore(
    (watcher) => {
      watchers.add(watcher);
      return () => watchers.delete(watcher);
    },
    () => session,
  );
}
