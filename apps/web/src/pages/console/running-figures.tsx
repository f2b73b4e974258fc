import { concise, ENOUGH, type Enough, percent, type RunningStatistics, significant } from "@alcedo-dosimetry/campaign";
import { useDecimal } from "../../look/decimal.tsx";
import "./running-figures.css";

/** What the figures under the entries are made of. */
export interface RunningFiguresProps {
  readonly statistics: readonly RunningStatistics[];
  readonly enough: Enough;
  readonly channels: readonly string[];
  readonly unit: string;
  readonly isDark: boolean;
}

/** Mean, standard deviation and uncertainty of the mean so far, and whether it is enough. */
export function RunningFigures({ statistics, enough, channels, unit, isDark }: RunningFiguresProps) {
  const decimal = useDecimal();
  return (
    <section className="running" aria-label="So far">
      {statistics.map(({ of, count, mean, sd, u, dof }) => (
        <dl key={of} className={`running-row${of === "corrected" ? "" : ` channel-${of + 1}`}`}>
          <div>
            <dd className="number running-figure">{decimal(concise(mean, u ?? null))}</dd>
            <dt>
              mean of {of === "corrected" ? "corrected light" : channels[of]}, {unit}
            </dt>
          </div>
          <div>
            <dd className="number running-figure">
              {sd === undefined ? "—" : decimal(isDark ? significant(sd, 2) : percent(sd / Math.abs(mean)))}
            </dd>
            <dt>standard deviation{count === 1 ? ": one reading has none" : `, n = ${count}`}</dt>
          </div>
          <div>
            <dd className="number running-figure">
              {u === undefined ? "—" : decimal(isDark ? significant(u, 2) : percent(u / Math.abs(mean)))}
            </dd>
            <dt>of the mean{dof > count - 1 ? `, by the scatter of the series (${dof} degrees of freedom)` : ""}</dt>
          </div>
        </dl>
      ))}
      {statistics.length > 0 && <EnoughMark enough={enough} isDark={isDark} />}
    </section>
  );
}

/** The mark that says whether to go on, by the criterion that it names. */
function EnoughMark({ enough: { enough, more }, isDark }: { readonly enough: Enough; readonly isDark: boolean }) {
  const decimal = useDecimal();
  const asked = isDark
    ? `${ENOUGH.dark} readings`
    : `the mean to ${percent(ENOUGH.relative)}, ${ENOUGH.readings} readings at least`;
  const says = enough
    ? "Enough"
    : more === undefined
      ? "Not yet: one more, to know the scatter"
      : more > 30
        ? "Not enough by far: these readings scatter too much to go on repeating them"
        : `${more} more${more === 1 ? "" : ", by the scatter so far"}`;
  return (
    <p className={enough ? "enough enough-yes" : "enough"} role="status">
      <svg viewBox="0 0 24 24" aria-hidden="true">
        <circle cx="12" cy="12" r="10" />
        {enough && <circle className="enough-full" cx="12" cy="12" r="6" />}
      </svg>
      <span>
        <strong>{says}.</strong> <span className="muted">Asked for: {decimal(asked)}.</span>
      </span>
    </p>
  );
}
