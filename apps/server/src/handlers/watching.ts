import { audit } from "@alcedo-dosimetry/archive";
import type { Handlers } from "../asked.ts";
import type { World } from "../world.ts";

/** Looking after the archive: was it altered, and what happens in it now. */
export function watchingHandlers({ live }: World): Handlers<"audit" | "events"> {
  return {
    audit: async ({ archive }) => audit(archive),
    events({ login, gone, reply }) {
      const ended = AbortSignal.any([login.ended, gone]);
      reply.type("text/event-stream").header("x-accel-buffering", "no"); // a proxy in front is not to collect them
      return live.listen(ended);
    },
  };
}
