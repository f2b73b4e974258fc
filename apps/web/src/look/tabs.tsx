import type { ReactNode } from "react";
import { Tabs as AriaTabs, Tab, TabList, TabPanel } from "react-aria-components";
import "./tabs.css";

/** One leaf of several that lie on each other. */
interface Leaf {
  readonly id: string;
  readonly title: ReactNode;
  readonly content: ReactNode;
}

/** What leaves that lie on each other are made of. */
export interface TabsProps {
  readonly label: string;
  readonly leaves: readonly Leaf[];
  readonly shown?: string;
  readonly onShow?: (id: string) => void;
}

/** Leaves of which one is seen. */
export function Tabs({ label, leaves, shown, onShow }: TabsProps) {
  return (
    <AriaTabs
      className="tabs"
      {...(shown !== undefined && { selectedKey: shown })}
      {...(onShow && { onSelectionChange: (key) => onShow(String(key)) })}
    >
      <TabList aria-label={label} className="tab-list">
        {leaves.map(({ id, title }) => (
          <Tab key={id} id={id} className="tab">
            {title}
          </Tab>
        ))}
      </TabList>
      {leaves.map(({ id, content }) => (
        <TabPanel key={id} id={id} className="tab-panel">
          {content}
        </TabPanel>
      ))}
    </AriaTabs>
  );
}
