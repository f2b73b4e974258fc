import type { Person } from "@alcedo-dosimetry/protocol";
import { ProblemError } from "../problem-error.ts";
import { newToken, tokenDigest } from "./token.ts";

/** How long a link is good. */
export const LINK_LIFE_ms = 24 * 3_600_000;

interface Link {
  readonly until: number;
  /** Whom it was made for; nobody in particular at the first start. */
  readonly invited?: Person;
}

/** Links by which somebody becomes a person here: each once, for a day. In memory alone; a new start makes new ones. */
export class Links {
  readonly #now: () => number;
  readonly #open = new Map<string, Link>();

  /** @param now milliseconds since 1970 */
  constructor(now: () => number) {
    this.#now = now;
  }

  /** Makes a link: the token at its end, and when it ends. A new one for the same person takes the place of the old. */
  create(invited?: Person): { readonly token: string; readonly until: number } {
    for (const [key, link] of this.#open)
      if (this.#now() > link.until || link.invited?.id === invited?.id) this.#open.delete(key);
    const token = newToken();
    const until = this.#now() + LINK_LIFE_ms;
    this.#open.set(tokenDigest(token), { until, ...(invited && { invited }) });
    return { token, until };
  }

  /**
   * Uses a link up. It is good again when the work fails: a passphrase that is refused does not cost the link.
   *
   * @param id the person that is to be made
   * @throws ProblemError (`link-spent`) when it is not good any more; (`not-allowed`) when it was made for somebody else
   */
  async spend<Result>(token: string, id: string, work: () => Promise<Result>): Promise<Result> {
    const key = tokenDigest(token);
    const link = this.#open.get(key);
    if (link === undefined || this.#now() > link.until) {
      throw new ProblemError(
        "link-spent",
        "The link was used already, or is older than a day.",
        "Ask for a new one; at the first start, start the server again: it prints one.",
      );
    }
    if (link.invited !== undefined && link.invited.id !== id) {
      throw new ProblemError(
        "not-allowed",
        `The link was made for ${link.invited.id}.`,
        `Take ${link.invited.id} as your id, or ask for another link.`,
      );
    }
    this.#open.delete(key);
    try {
      return await work();
    } catch (error) {
      this.#open.set(key, link);
      throw error;
    }
  }
}
