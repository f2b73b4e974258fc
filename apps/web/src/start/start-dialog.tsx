import type { Campaign } from "@alcedo-dosimetry/campaign";
import { problemKind } from "@alcedo-dosimetry/protocol";
import { useState } from "react";
import { hashOf } from "../app/route.ts";
import { useSettings } from "../app/settings.ts";
import { Button } from "../look/button.tsx";
import { Dialog } from "../look/dialog.tsx";
import { Switch } from "../look/switch.tsx";
import { TextField } from "../look/text-field.tsx";
import { filled, type Typed } from "../set-up/filled.ts";
import { BEAM, DETECTOR } from "../set-up/set-up-fields.ts";
import { SetUpForm } from "../set-up/set-up-form.tsx";
import { ask, errorWords, ProblemError } from "../talk/ask.ts";
import { CHAIN_SERIES, FIRST_DESCRIPTOR, nameFor, newCampaign } from "./new-campaign.ts";
import "./start-dialog.css";

const SERIES_WORDS: Readonly<Record<(typeof CHAIN_SERIES)[number], string>> = {
  background: "Background: beam off, taken away from every reading",
  separation: "Separation: little and much fibre in the beam, to find the stem ratio",
  calibration: "Calibration: a known dose in the reference field",
  "output-factors": "Output factors: the fields, and the reference between them",
};

/** A campaign from scratch: what is asked, and why it is asked. */
export function StartDialog({ onClose }: { readonly onClose: () => void }) {
  const { decimal } = useSettings();
  const [title, setTitle] = useState("");
  const [typed, setTyped] = useState<Typed>({});
  const [series, setSeries] = useState<ReadonlySet<string>>(new Set(CHAIN_SERIES));
  const [trouble, setTrouble] = useState<string>();
  const [busy, setBusy] = useState(false);
  const groups = [DETECTOR, BEAM];
  const { descriptor, faults } = filled(FIRST_DESCRIPTOR, groups, typed);
  const { detector, beam } = descriptor.alcedo as Partial<Campaign["descriptor"]["alcedo"]>;
  const missing = [
    ...(title.trim() === "" ? ["a title"] : []),
    ...(detector?.id ? [] : ["the fibre"]),
    ...(beam?.id ? [] : ["the beam"]),
    ...(series.size === 0 ? ["at least one series"] : []),
  ];
  const shownFaults = Object.entries(faults).filter(([key]) => typed[key] !== undefined);
  const start = async () => {
    setBusy(true);
    setTrouble(undefined);
    try {
      const campaign = newCampaign(
        descriptor,
        title,
        CHAIN_SERIES.filter((own) => series.has(own)),
        decimal,
      );
      const kept = await ask("keep", { body: { campaign, why: "begun on the page" } });
      onClose();
      location.hash = hashOf({ page: "campaign", id: kept.id });
    } catch (error) {
      const taken = error instanceof ProblemError && problemKind(error.problem) === "exists";
      setTrouble(
        taken ? `There is a campaign ${nameFor(title)} already: give this one another title.` : errorWords(error),
      );
    } finally {
      setBusy(false);
    }
  };
  return (
    <Dialog
      title="Start a campaign"
      isOpen
      wide
      onClose={onClose}
      foot={
        <>
          {missing.length > 0 && <span className="muted small">Still needed: {missing.join(", ")}.</span>}
          <Button onPress={onClose}>Cancel</Button>
          <Button
            kind="main"
            isDisabled={busy || missing.length > 0 || shownFaults.length > 0}
            onPress={() => void start()}
          >
            Start
          </Button>
        </>
      }
    >
      <div className="start">
        <TextField
          label="Title"
          hint="What is measured and where: “Cones, bunker 3”. Keep patients' names out."
          value={title}
          onChange={setTitle}
          autoFocus
        />
        {trouble !== undefined && (
          <p className="field-error" role="alert">
            {trouble}
          </p>
        )}
        <fieldset className="set-up-group">
          <legend>What will be measured</legend>
          <p className="muted">Each is a stage of the chain, with an empty table. More can be begun later.</p>
          {CHAIN_SERIES.map((own) => (
            <Switch
              key={own}
              isOn={series.has(own)}
              onSwitch={(on) =>
                setSeries(new Set(on ? [...series, own] : [...series].filter((other) => other !== own)))
              }
            >
              {SERIES_WORDS[own]}
            </Switch>
          ))}
        </fieldset>
        <SetUpForm base={FIRST_DESCRIPTOR} groups={groups} typed={typed} onType={setTyped} />
      </div>
    </Dialog>
  );
}
