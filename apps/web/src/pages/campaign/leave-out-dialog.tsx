import { columnAt, type Table } from "@alcedo-dosimetry/campaign";
import { useState } from "react";
import { Button } from "../../look/button.tsx";
import { Dialog } from "../../look/dialog.tsx";
import { TextField } from "../../look/text-field.tsx";
import { type Change, excludeChange, readingOf } from "../../readings/grid-edits.ts";

/** What the leaving out of a reading is asked with. */
export interface LeaveOutProps {
  readonly name: string;
  readonly table: Table;
  readonly row: number;
  readonly who: string;
  readonly onChange: (change: Change) => void;
  readonly onWhatIf: () => void;
  readonly onClose: () => void;
}

/** Leaves a reading out with a reason, or takes it in again; the reading itself stays where it is. */
export function LeaveOutDialog({ name, table, row, who, onChange, onWhatIf, onClose }: LeaveOutProps) {
  const at = columnAt(table.columns, "exclude");
  const before = at < 0 ? "" : table.rows[row]![at]!.trim();
  const [reason, setReason] = useState(before);
  const reading = readingOf(table, table.rows[row]!);
  const make = (text: string) => {
    onChange(excludeChange(name, table, row, text, who));
    onClose();
  };
  return (
    <Dialog
      title={before === "" ? `Leave out ${reading}` : `${reading} is left out`}
      isOpen
      onClose={onClose}
      foot={
        <>
          <Button onPress={onClose}>Cancel</Button>
          {before === "" ? (
            <Button onPress={onWhatIf}>What if, first</Button>
          ) : (
            <Button onPress={() => make("")}>Take it in again</Button>
          )}
          <Button
            kind="main"
            isDisabled={reason.trim() === "" || reason.trim() === before}
            onPress={() => make(reason)}
          >
            Leave out
          </Button>
        </>
      }
    >
      <TextField
        label="Reason"
        hint="What happened: “door opened”, “beam interrupted”. A reading is not left out because it does not please. It stays in the table, with the reason and who left it out."
        value={reason}
        onChange={setReason}
        autoFocus
        onKeyDown={(event) => {
          if (event.key === "Enter" && reason.trim() !== "" && reason.trim() !== before) make(reason);
        }}
      />
    </Dialog>
  );
}
