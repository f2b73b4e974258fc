import type { Archive } from "@alcedo-dosimetry/archive";
import type { Work } from "./jobs/threads.ts";
import type { LiveEvents } from "./live-events.ts";
import type { People } from "./people.ts";
import type { Attempts } from "./security/attempts.ts";
import type { Links } from "./security/links.ts";
import type { Logins } from "./security/logins.ts";

/** What the handlers work with. */
export interface World {
  readonly archive: Archive;
  readonly people: People;
  readonly work: Work;
  readonly logins: Logins;
  readonly links: Links;
  readonly attempts: Attempts;
  readonly live: LiveEvents;
  /** Milliseconds since 1970. */
  readonly now: () => number;
  /** Whether the cookie goes by HTTPS alone. */
  readonly secure: boolean;
  /** Whether all that the archive holds is invented. */
  readonly simulated: boolean;
  readonly version: string;
}
