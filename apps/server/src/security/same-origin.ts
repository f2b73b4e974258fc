import { ProblemError } from "../problem-error.ts";

/** What a browser says of where a request comes from. */
export interface Provenance {
  readonly method: string;
  readonly host: string | undefined;
  readonly origin: string | undefined;
  /** The header Sec-Fetch-Site. */
  readonly site: string | undefined;
}

/**
 * Refuses a request that another page has made a browser send. The cookie's SameSite=Strict does not see other ports of this
 * machine (they are the same site), so the browser's own words count: Sec-Fetch-Site wherever it is there, and Origin
 * wherever something is changed. A program that is no browser sends neither.
 */
export function requireSameOrigin({ method, host, origin, site }: Provenance): void {
  const reads = method === "GET" || method === "HEAD";
  const siteFits = site === undefined || site === "same-origin" || (reads && site === "none");
  const originFits = origin === undefined || hostOf(origin) === host?.toLowerCase();
  if (siteFits && originFits) return;
  throw new ProblemError(
    "cross-site",
    "The request was made by another page than the workbench's own.",
    "Open the workbench itself, and do it there.",
  );
}

function hostOf(origin: string): string | undefined {
  return /^https?:\/\/([^/@]+)$/i.exec(origin)?.[1]?.toLowerCase();
}
