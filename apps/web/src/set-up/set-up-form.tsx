import type { Descriptor } from "@alcedo-dosimetry/campaign";
import { useMemo } from "react";
import { Select } from "../look/select.tsx";
import { TextField } from "../look/text-field.tsx";
import { fieldKey, filled, type Typed } from "./filled.ts";
import { fieldText, type SetUpGroup } from "./set-up-fields.ts";
import "./set-up-form.css";

/** What a form of the set-up is made of. */
export interface SetUpFormProps {
  readonly base: Descriptor;
  readonly groups: readonly SetUpGroup[];
  readonly typed: Typed;
  readonly onType: (typed: Typed) => void;
}

/** Detector, beam and assumptions to fill in, each with what it is for. */
export function SetUpForm({ base, groups, typed, onType }: SetUpFormProps) {
  const { faults } = useMemo(() => filled(base, groups, typed), [base, groups, typed]);
  return (
    <div className="set-up-form">
      {groups.map(({ title, words, fields }) => (
        <fieldset key={title} className="set-up-group">
          <legend>{title}</legend>
          <p className="muted">{words}</p>
          <div className="set-up-fields">
            {fields.map((field) => {
              const key = fieldKey(field);
              const text = typed[key] ?? fieldText(base, field);
              const label =
                field.unit === undefined || field.unit === "1" ? field.label : `${field.label}, ${field.unit}`;
              const type = (own: string) => onType({ ...typed, [key]: own });
              const choices =
                field.kind === "yes-no" ? ["yes", "no"] : typeof field.kind === "string" ? undefined : field.kind;
              if (choices)
                return (
                  <Select
                    key={key}
                    label={label}
                    chosen={text === "" ? undefined : text}
                    empty="not stated"
                    choices={choices.map((id) => ({ id, name: id.replace("-", " the ") }))}
                    onChoose={type}
                  />
                );
              return (
                <TextField
                  key={key}
                  label={label}
                  {...(field.hint !== undefined && field.hint !== "" && { hint: field.hint })}
                  mono={field.kind === "number"}
                  inputMode={field.kind === "number" ? "decimal" : "text"}
                  value={text}
                  onChange={type}
                  error={typed[key] === undefined && text === "" ? undefined : faults[key]}
                />
              );
            })}
          </div>
        </fieldset>
      ))}
    </div>
  );
}
