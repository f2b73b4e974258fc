import type { Campaign } from "@alcedo-dosimetry/campaign";
import { useState } from "react";
import { Button } from "../look/button.tsx";
import { Dialog } from "../look/dialog.tsx";
import { TextField } from "../look/text-field.tsx";
import type { Change } from "../readings/grid-edits.ts";
import { changedWords } from "./changed-words.ts";
import { filled, type Typed } from "./filled.ts";
import { SET_UP } from "./set-up-fields.ts";
import { SetUpForm } from "./set-up-form.tsx";

/** What the sheet of a campaign's set-up is made of. */
export interface SetUpDialogProps {
  readonly campaign: Campaign;
  readonly onChange: (change: Change) => void;
  readonly onClose: () => void;
}

/** Title, detector, beam and assumptions of an open campaign. */
export function SetUpDialog({ campaign, onChange, onClose }: SetUpDialogProps) {
  const base = campaign.descriptor;
  const [typed, setTyped] = useState<Typed>({});
  const [title, setTitle] = useState(base.title ?? "");
  const { descriptor, faults } = filled(base, SET_UP, typed);
  const titled = title.trim() === (base.title ?? "") ? descriptor : { ...descriptor, title: title.trim() };
  const isSame = JSON.stringify(titled) === JSON.stringify(base);
  return (
    <Dialog
      title="Set-up"
      isOpen
      wide
      onClose={onClose}
      foot={
        <>
          <Button onPress={onClose}>Cancel</Button>
          <Button
            kind="main"
            isDisabled={isSame || Object.keys(faults).length > 0}
            onPress={() => {
              onChange({ edits: [{ descriptor: titled }], why: changedWords(base, titled) });
              onClose();
            }}
          >
            Change
          </Button>
        </>
      }
    >
      <TextField label="Title" value={title} onChange={setTitle} />
      <SetUpForm base={base} groups={SET_UP} typed={typed} onType={setTyped} />
    </Dialog>
  );
}
