import type { StageId } from "@alcedo-dosimetry/campaign";
import type { Figure } from "@alcedo-dosimetry/figures";
import { memo, useEffect, useState } from "react";
import type { EngineClient } from "../../engine/engine-client.ts";
import type { Outcome } from "../../engine/orders.ts";
import { Drawing } from "../../look/drawing.tsx";
import "./set-up-strip.css";

/** Results come first: the drawings follow once they have stood still for so long, in ms. */
const REST = 250;

/** What the drawings of a stage's conditions are made from. */
export interface SetUpStripProps {
  readonly stage: StageId;
  readonly engine: EngineClient;
  readonly outcome: Outcome;
  readonly conditions: readonly string[];
}

/** What is set up under each condition, as the source sees it, to scale. */
export const SetUpStrip = memo(function SetUpStrip({ stage, engine, outcome, conditions }: SetUpStripProps) {
  const [figures, setFigures] = useState<readonly Figure[]>([]);
  const draws = stage === "separation" || stage === "output-factors";
  // biome-ignore lint/correctness/useExhaustiveDependencies: every outcome may have changed what is set up
  useEffect(() => {
    if (!draws || conditions.length === 0) return undefined;
    let wanted = true;
    const timer = setTimeout(
      () =>
        void engine.figures(conditions.map((condition) => `geometry.${stage}.${condition}`)).then((drawn) => {
          // the same drawings again are not put on the page again
          if (wanted) setFigures((before) => (JSON.stringify(before) === JSON.stringify(drawn) ? before : drawn));
        }),
      figures.length === 0 ? 0 : REST,
    );
    return () => {
      wanted = false;
      clearTimeout(timer);
    };
  }, [engine, outcome, conditions, stage, draws]);
  if (!draws || figures.length === 0) return null;
  return (
    <ul className="strip" aria-label="What is set up, as the source sees it">
      {figures.map((figure) => (
        <li key={figure.id} className="strip-one">
          <Drawing figure={figure} bare />
          <span>{figure.id.split(".").slice(2).join(".")}</span>
        </li>
      ))}
    </ul>
  );
});
