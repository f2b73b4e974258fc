import type { StageId } from "@alcedo-dosimetry/campaign";
import type { Figure } from "@alcedo-dosimetry/figures";
import { memo, useEffect, useState } from "react";
import type { EngineClient } from "../../engine/engine-client.ts";
import type { Outcome } from "../../engine/orders.ts";
import { Drawing } from "../../look/drawing.tsx";
import { Tabs } from "../../look/tabs.tsx";

/** The figures of a stage, by what they are called on their leaves. */
const FIGURES: Readonly<Record<StageId, readonly (readonly [id: string, title: string])[]>> = {
  background: [],
  separation: [
    ["separation", "Plane"],
    ["stem-load", "Stem loads"],
  ],
  calibration: [],
  "output-factors": [
    ["output-factors", "Curve"],
    ["reference-drift", "Drift"],
  ],
};

/** Results come first: a figure is drawn once they have stood still for so long, in ms. */
const REST = 120;

/** What the figures of a stage are shown from. */
export interface StageFiguresProps {
  readonly stage: StageId;
  readonly engine: EngineClient;
  readonly outcome: Outcome;
  /** The conditions whose readings may be drawn over time. */
  readonly conditions: readonly string[];
}

/** The pictures of a stage, one leaf at a time; only the one that is seen is drawn. */
export const StageFigures = memo(function StageFigures({ stage, engine, outcome, conditions }: StageFiguresProps) {
  const leaves =
    FIGURES[stage].length > 0 ? FIGURES[stage] : conditions.map((name) => [`readings.${stage}.${name}`, name] as const);
  const [shown, setShown] = useState<string>();
  const id = leaves.some(([own]) => own === shown) ? shown! : leaves[0]?.[0];
  const figure = useFigure(engine, outcome, id);
  if (id === undefined) return null;
  const content = figure ? <Drawing figure={figure} bare /> : <p className="muted">Nothing to draw yet.</p>;
  if (leaves.length === 1) return content;
  return (
    <Tabs
      label="Figures"
      shown={id}
      onShow={setShown}
      leaves={leaves.map(([own, title]) => ({ id: own, title, content: own === id ? content : null }))}
    />
  );
});

/** A figure of the engine, anew after each outcome; the one before stays until then. */
function useFigure(engine: EngineClient, outcome: Outcome, id: string | undefined): Figure | undefined {
  const [figure, setFigure] = useState<Figure>();
  // biome-ignore lint/correctness/useExhaustiveDependencies: every outcome may have changed it
  useEffect(() => {
    if (id === undefined) return undefined;
    let wanted = true;
    const timer = setTimeout(
      () => void engine.figures([id]).then(([drawn]) => wanted && setFigure(drawn)),
      figure?.id === id ? REST : 0,
    );
    return () => {
      wanted = false;
      clearTimeout(timer);
    };
  }, [engine, outcome, id]);
  return figure?.id === id ? figure : undefined;
}
