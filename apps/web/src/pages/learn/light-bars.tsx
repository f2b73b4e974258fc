import { inLine, plain } from "@alcedo-dosimetry/campaign";
import { useDecimal } from "../../look/decimal.tsx";
import type { SeenLight } from "./outcome.ts";
import { NAMES } from "./play.ts";
import "./light-bars.css";

const WORDS: Readonly<Record<string, string>> = {
  [NAMES.little]: "little fibre",
  [NAMES.moved]: "moved by you",
  [NAMES.much]: "much fibre",
  [NAMES.reference]: "reference field",
  [NAMES.field]: "your field",
};

/** The light of each arrangement in both channels: full what comes from the tip, hatched what comes from the stem. */
export function LightBars({
  lights,
  channels,
}: {
  readonly lights: readonly SeenLight[];
  readonly channels: readonly [string, string];
}) {
  const decimal = useDecimal();
  const most = Math.max(...lights.flatMap(({ light }) => [0, 1].map((c) => light.tip[c as 0] + light.stem[c as 0])));
  const inColumn = (values: readonly number[]) =>
    inLine([...values, most], 3)
      .slice(0, -1)
      .map(decimal);
  return (
    <table className="lights">
      <caption className="unseen">Light in each channel, from the tip and from the stem, in nC</caption>
      <thead className="unseen">
        <tr>
          <th scope="col">arrangement</th>
          <th scope="col">channel</th>
          <th scope="col">light</th>
          <th scope="col">tip and stem, nC</th>
        </tr>
      </thead>
      {lights.map(({ name, fibre_mm, light }) => (
        <tbody key={name} className={name === NAMES.moved || name === NAMES.field ? "lights-yours" : undefined}>
          {channels.map((channel, c) => {
            const [tip, stem] = [light.tip[c as 0], light.stem[c as 0]];
            const [tipText, stemText] = inColumn([tip, stem]);
            return (
              <tr key={channel}>
                {c === 0 && (
                  <th scope="rowgroup" rowSpan={2} className="lights-name">
                    {WORDS[name] ?? name}
                    <span className="muted small"> {decimal(plain(fibre_mm))} mm in the beam</span>
                  </th>
                )}
                <th scope="row" className={`lights-channel channel-${c + 1}`}>
                  {channel}
                </th>
                <td className="lights-bar">
                  <svg viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
                    <rect className={`lights-tip lights-${c + 1}`} width={(100 * tip) / most} height="6" />
                    <rect
                      className={`lights-stem lights-${c + 1}`}
                      x={(100 * tip) / most}
                      width={(100 * stem) / most}
                      height="6"
                    />
                  </svg>
                </td>
                <td className="number lights-figures">
                  {tipText} <span className="muted">+ {stemText?.padStart(4, "\u2007")}</span>
                </td>
              </tr>
            );
          })}
        </tbody>
      ))}
    </table>
  );
}
