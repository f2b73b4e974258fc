import type { Handlers } from "../asked.ts";
import type { FibreOverview } from "../fibre-overview.ts";
import type { World } from "../world.ts";

/** The fibres of the home page. */
export function fibreHandlers({ now }: World, overview: FibreOverview): Handlers<"fibres"> {
  return { fibres: async () => overview.fibres(now()) };
}
