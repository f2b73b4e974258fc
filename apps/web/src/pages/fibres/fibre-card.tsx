import { concise } from "@alcedo-dosimetry/campaign";
import type { Fibre } from "@alcedo-dosimetry/protocol";
import { useDecimal } from "../../look/decimal.tsx";
import { StandingMark } from "../../look/standing-mark.tsx";
import { SensitivityLine } from "./sensitivity-line.tsx";
import "./fibre-card.css";

/** What a fibre on the home page is made of. */
export interface FibreCardProps {
  readonly fibre: Fibre;
  readonly isChosen: boolean;
  readonly onChoose: () => void;
}

/** A fibre: what it is worth now, how its sensitivity went, and what is due. Pressed, its campaigns alone are listed. */
export function FibreCard({ fibre, isChosen, onChoose }: FibreCardProps) {
  const { id, standing, sensitivity, due, campaigns, last } = fibre;
  const decimal = useDecimal();
  const latest = sensitivity.at(-1);
  return (
    <section className={`sheet fibre${isChosen ? " fibre-chosen" : ""}`} aria-label={`Fibre ${id}`}>
      <header className="fibre-head">
        <h2>{id}</h2>
        {standing === null ? (
          <span className="muted small">not evaluated yet</span>
        ) : (
          <StandingMark standing={standing} />
        )}
      </header>
      {latest ? (
        <div className="fibre-sensitivity">
          <SensitivityLine points={sensitivity} />
          <p>
            <span className="number">{decimal(concise(latest.value, latest.u))}</span> {latest.unit}
            <span className="muted small">
              {" "}
              {latest.unit.startsWith("Gy") ? "dose per light" : "signal per dose"}
              {latest.day === undefined ? "" : `, ${latest.day}`}
            </span>
          </p>
        </div>
      ) : (
        <p className="muted small">
          No calibration kept yet: its sensitivity will be drawn here, campaign by campaign.
        </p>
      )}
      {due.length > 0 && (
        <ul className="fibre-due">
          {due.map((words) => (
            <li key={words}>{decimal(words)}</li>
          ))}
        </ul>
      )}
      <footer className="fibre-foot">
        <button type="button" className="trace-link" aria-pressed={isChosen} onClick={onChoose}>
          {campaigns === 1 ? "1 campaign" : `${campaigns} campaigns`}
        </button>
        {last !== undefined && <span className="muted small">last changed {last.slice(0, 10)}</span>}
      </footer>
    </section>
  );
}
