import { useEffect, useRef } from "react";
import type { Entry } from "./entry.ts";
import type { EntryField } from "./next-reading.ts";
import "./big-entries.css";

/** What the large fields are made of. */
export interface BigEntriesProps {
  readonly fields: readonly EntryField[];
  readonly entry: Entry;
  /** The same fields of the reading before: so many digits are expected. */
  readonly before: Readonly<Record<string, string>>;
  readonly isQuiet: boolean;
  readonly onType: (column: string, text: string) => void;
  readonly onField: (field: number) => void;
  /** Backspace where there is nothing to delete. */
  readonly onBack: () => void;
}

/** One large field for each channel, in its colour. */
export function BigEntries({ fields, entry, before, isQuiet, onType, onField, onBack }: BigEntriesProps) {
  const inputs = useRef<(HTMLInputElement | null)[]>([]);
  const { field, fault } = entry;
  // biome-ignore lint/correctness/useExhaustiveDependencies: a reading that is opened anew takes the focus as well
  useEffect(() => {
    if (!isQuiet) inputs.current[field]?.focus();
  }, [field, isQuiet, entry.corrects]);
  return (
    <div className="big-entries">
      {fields.map(({ column, name, channel, unit }, k) => (
        <div key={column} className={`big-entry${channel === undefined ? "" : ` channel-${channel + 1}`}`}>
          <label className="big-entry-name" htmlFor={`entry-${column}`}>
            {name}
          </label>
          <input
            id={`entry-${column}`}
            ref={(input) => {
              inputs.current[k] = input;
            }}
            className="big-entry-input number"
            value={entry.texts[column] ?? ""}
            placeholder={(before[column] ?? "").replaceAll(/\d/g, "·")}
            inputMode="decimal"
            autoComplete="off"
            spellCheck={false}
            data-keys-through=""
            aria-invalid={fault !== undefined && k === field}
            {...(fault !== undefined && k === field && { "aria-describedby": "entry-fault" })}
            onChange={({ target }) => onType(column, target.value)}
            onFocus={() => onField(k)}
            onKeyDown={(event) => {
              if (event.key !== "Backspace" || (entry.texts[column] ?? "") !== "") return;
              event.preventDefault();
              onBack();
            }}
          />
          <span className="big-entry-unit">{unit}</span>
        </div>
      ))}
      <p id="entry-fault" className="big-entry-fault" role="alert">
        {fault}
      </p>
    </div>
  );
}
