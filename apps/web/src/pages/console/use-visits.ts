import type { Campaign, Visit } from "@alcedo-dosimetry/campaign";
import { useEffect, useState } from "react";
import type { EngineClient } from "../../engine/engine-client.ts";
import { errorWords } from "../../talk/ask.ts";

/** The visits of the open campaign, as the engine has worked them out last. */
export interface KnownVisits {
  readonly visits: readonly Visit[] | undefined;
  /** Why they are not those of the campaign as it is. */
  readonly trouble?: string;
}

/** Asks the engine for the visits whenever the campaign has changed; until it answers the last ones stand. */
export function useVisits(engine: EngineClient, campaign: Campaign): KnownVisits {
  const [known, setKnown] = useState<KnownVisits>({ visits: undefined });
  // biome-ignore lint/correctness/useExhaustiveDependencies: the engine has the campaign; it is asked when that is another one
  useEffect(() => {
    let wanted = true;
    engine.visits().then(
      (visits) => wanted && setKnown({ visits }),
      (error: unknown) => wanted && setKnown(({ visits }) => ({ visits, trouble: errorWords(error) })),
    );
    return () => {
      wanted = false;
    };
  }, [engine, campaign]);
  return known;
}
