import type { Campaign } from "@alcedo-dosimetry/campaign";
import { conditionFigure } from "@alcedo-dosimetry/report";
import { useMemo } from "react";
import { Drawing } from "../../look/drawing.tsx";
import type { At } from "./next-reading.ts";
import "./set-up-drawing.css";

/** What is to be set up, as the source sees it and to scale. */
export function SetUpDrawing({
  campaign,
  at: { series, condition },
}: {
  readonly campaign: Campaign;
  readonly at: At;
}) {
  const figure = useMemo(() => conditionFigure(campaign, series, condition), [campaign, series, condition]);
  return (
    <section className="set-up-drawing" aria-label="Set up">
      <h2>Set up</h2>
      {series === "background" ? (
        <p>Beam off, everything else as with the beam on: the same integration time, the fibre where it is.</p>
      ) : figure ? (
        <>
          <Drawing figure={figure} bare />
          <p className="muted small">Seen from the source, to scale.</p>
        </>
      ) : (
        <p className="muted">The campaign states neither field nor fibre for this condition.</p>
      )}
    </section>
  );
}
