import { concise, significant } from "@alcedo-dosimetry/campaign";
import type { RecheckRow } from "@alcedo-dosimetry/protocol";
import { agreement } from "@alcedo-dosimetry/recheck";
import { useState } from "react";
import { useDecimal } from "../../look/decimal.tsx";
import { Switch } from "../../look/switch.tsx";
import { Table } from "../../look/table.tsx";

/** The figures that a report is read for; the others are shown when asked for. */
const MAIN = /^(separation\.stem-ratio|separation\.coefficient|calibration\.coefficient|output-factor\.)/;

const apart = (row: RecheckRow) => agreement(row) === "apart";

/** The figures by both routes; those that are apart first, with a sign. */
export function RecheckTable({ rows }: { readonly rows: readonly RecheckRow[] }) {
  const decimal = useDecimal();
  const [all, setAll] = useState(false);
  const alone = rows.filter((row) => agreement(row) === "one route alone");
  const odd = rows.filter(apart);
  const rest = rows.filter((row) => !apart(row) && (all || MAIN.test(row.id)));
  const shown = [...odd, ...rest];
  const both = rows.length - alone.length;
  const number = (value: number | null, u: number | null) => (value === null ? "—" : decimal(concise(value, u)));
  return (
    <>
      <p>
        <strong>
          {both - odd.length} of {both}
        </strong>{" "}
        figures agree: within a hundredth of their uncertainty, and their uncertainties within two per cent.
        {odd.length > 0 && ` ${odd.length} do not: they stand first, marked △.`}
        {alone.length > 0 && ` ${alone.length} more have no second route.`}
      </p>
      <Table
        label="Both routes side by side"
        rows={shown}
        keyOf={({ id }) => id}
        flagged={apart}
        columns={[
          {
            id: "figure",
            title: "figure",
            cell: (row) => (
              <>
                {apart(row) && "△ "}
                <span className="number">{row.id}</span>
              </>
            ),
          },
          { id: "one", title: "evaluation", number: true, cell: ({ value, u }) => number(value, u) },
          {
            id: "two",
            title: "second route",
            number: true,
            cell: ({ recheckValue, recheckU }) => number(recheckValue, recheckU),
          },
          {
            id: "difference",
            title: "difference",
            number: true,
            cell: ({ difference }) => (difference === null ? "—" : decimal(significant(difference, 2))),
          },
        ]}
      />
      <Switch isOn={all} onSwitch={setAll}>
        all {rows.length} figures
      </Switch>
    </>
  );
}
