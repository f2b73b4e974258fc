import { concise, inLine, plain } from "@alcedo-dosimetry/campaign";
import { useDecimal } from "../../look/decimal.tsx";
import { Table } from "../../look/table.tsx";
import type { Outcome, Way } from "./outcome.ts";
import { NAMES } from "./play.ts";

const WORDS: Readonly<Record<Way["id"], string>> = {
  "first-channel": "blue alone",
  "old-ratio": "corrected, with the stem ratio of the first day",
  "todays-ratio": "corrected, with the stem ratio of today",
};

/** More than what a small field's output factor may be off by before somebody is treated with it (common practice: 2 %). */
const FAR = 0.02;

/** With one decimal: more of them would be noise. */
const offInWords = (off: number) => `${off > 0 ? "+" : ""}${inLine([100 * off, 10], 3)[0]} %`;

/** The output factor by each way, beside the true one. */
export function WaysTable({ outcome: { ways, truth } }: { readonly outcome: Outcome }) {
  const decimal = useDecimal();
  const rows = (Object.keys(WORDS) as Way["id"][]).map((id) => ({ id, way: ways.find((one) => one.id === id) }));
  return (
    <>
      <Table
        label="The output factor of your field by each way"
        columns={[
          { id: "way", title: "output factor", cell: ({ id }) => WORDS[id] },
          {
            id: "value",
            title: "Ω",
            number: true,
            cell: ({ way }) => (way ? decimal(way.u === null ? plain(way.value, 4) : concise(way.value, way.u)) : "—"),
          },
          {
            id: "off",
            title: "from the true one",
            number: true,
            cell: ({ way }) =>
              way ? (
                <>
                  {Math.abs(way.off) > FAR && <span title="more than 2 % off">▲ </span>}
                  {decimal(offInWords(way.off))}
                </>
              ) : (
                "no result"
              ),
          },
        ]}
        rows={rows}
        keyOf={({ id }) => id}
        flagged={({ way }) => way === undefined || Math.abs(way.off) > FAR}
      />
      <p className="muted small">
        True, as only a simulation knows it:{" "}
        <span className="number">{decimal(plain(truth.outputFactors[NAMES.field]!, 4))}</span>. ▲ marks more than 2 %
        off.
      </p>
    </>
  );
}
