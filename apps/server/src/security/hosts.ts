import { ProblemError } from "../problem-error.ts";

/** What a server on loopback may be called. */
export const LOOPBACK_NAMES: readonly string[] = ["127.0.0.1", "localhost", "[::1]"];

/** Whether an address to listen on reaches no further than this machine. */
export function isLoopback(host: string): boolean {
  return host === "localhost" || host === "::1" || host === "[::1]" || /^127(?:\.\d{1,3}){3}$/.test(host);
}

/**
 * Refuses a request that calls the server by another name than its own: a name that somebody else's page has let point here
 * (DNS rebinding) would make that page the server's own.
 *
 * @param host the header Host
 * @param names without port, as the header writes them
 */
export function requireKnownHost(host: string | undefined, names: readonly string[]): void {
  const name = /^(\[[0-9a-f:.]+\]|[a-z0-9.-]+)(?::\d{1,5})?$/i.exec(host ?? "")?.[1]?.toLowerCase();
  if (name !== undefined && names.includes(name)) return;
  throw new ProblemError(
    "wrong-host",
    "The address names this server as it is not called.",
    `Open it as it was printed, with ${names.join(" or ")}.`,
  );
}
