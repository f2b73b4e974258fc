import { type Campaign, isNumberText, STAGE_NAMES } from "@alcedo-dosimetry/campaign";
import { useState } from "react";
import { Button } from "../../look/button.tsx";
import { asTable } from "../../look/decimal-sign.ts";
import { Dialog } from "../../look/dialog.tsx";
import { Select } from "../../look/select.tsx";
import { TextField } from "../../look/text-field.tsx";
import { type At, tableOf } from "./next-reading.ts";
import { measurableSeries, nameFault, setUpColumns } from "./set-up-fields.ts";
import "./set-up-dialog.css";

/** What the sheet on which a set-up is written is made of. */
export interface SetUpDialogProps {
  readonly campaign: Campaign;
  /** The condition whose next readings are set up; its name may be changed where `isNew`. */
  readonly at: At;
  readonly isNew: boolean;
  readonly begin: ReadonlyMap<string, string>;
  readonly onDone: (at: At, cells: ReadonlyMap<string, string>) => void;
  readonly onClose: () => void;
}

/** What is set up for the next readings: of this condition, or of another one that is new. */
export function SetUpDialog({ campaign, at, isNew, begin, onDone, onClose }: SetUpDialogProps) {
  const [series, setSeries] = useState(at.series);
  const [name, setName] = useState(isNew ? "" : at.condition);
  const [cells, setCells] = useState(begin);
  const [tried, setTried] = useState(false);
  const decimal = tableOf(campaign, series)?.table.decimal ?? ".";
  const columns = setUpColumns(campaign, series);
  const textOf = (column: string) => cells.get(column) ?? "";
  const faultOf = (column: (typeof columns)[number]) => {
    const text = asTable(textOf(column.name), decimal);
    if (text === "") return column.needed === "always" && tried ? "It is needed." : undefined;
    return column.kind === "number" && !isNumberText(text, decimal) ? "It is no number." : undefined;
  };
  const wrongName = isNew ? nameFault(name) : undefined;
  const done = () => {
    setTried(true);
    const missing = columns.some((column) => column.needed === "always" && textOf(column.name).trim() === "");
    if (wrongName !== undefined || missing || columns.some((column) => faultOf(column) !== undefined)) return;
    const kept = columns.flatMap(({ name: column, kind }) => {
      const text = kind === "number" ? asTable(textOf(column), decimal) : textOf(column).trim();
      return [[column, text] as const];
    });
    onDone({ series, condition: name.trim() }, new Map(kept));
  };
  return (
    <Dialog
      title={isNew ? "Another condition" : `Set-up of the next readings of ${at.condition}`}
      isOpen
      onClose={onClose}
      foot={
        <>
          <Button onPress={onClose}>Leave it</Button>
          <Button kind="main" onPress={done}>
            {isNew ? "Measure it" : "Set up so"}
          </Button>
        </>
      }
    >
      <form
        className="set-up"
        onSubmit={(event) => {
          event.preventDefault();
          done();
        }}
      >
        {isNew && (
          <>
            <Select
              label="Series"
              choices={measurableSeries(campaign).map((id) => ({ id, name: STAGE_NAMES[id] }))}
              chosen={series}
              onChoose={setSeries}
            />
            <TextField
              label="Name of the condition"
              hint="Readings under one name are repeats."
              value={name}
              onChange={setName}
              autoFocus
              {...(tried && wrongName !== undefined && { error: wrongName })}
            />
          </>
        )}
        {columns.map((column) =>
          column.choices ? (
            <Select
              key={column.name}
              label={column.name}
              choices={column.choices.map((id) => ({ id, name: id }))}
              chosen={textOf(column.name) || undefined}
              onChoose={(text) => setCells(new Map(cells).set(column.name, text))}
            />
          ) : (
            <TextField
              key={column.name}
              label={column.name}
              hint={column.meaning}
              mono={column.kind === "number"}
              value={textOf(column.name)}
              onChange={(text) => setCells(new Map(cells).set(column.name, text))}
              {...(faultOf(column) !== undefined && { error: faultOf(column) })}
            />
          ),
        )}
        <button type="submit" hidden>
          done
        </button>
      </form>
    </Dialog>
  );
}
