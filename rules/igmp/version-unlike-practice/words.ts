import { agree, type FindingWords, type Vlan } from '../../../src/doors/rule.js';
import { vlansWords } from '../../../src/doors/igmp.js';

export interface Facts {
  readonly vlans: readonly Vlan[];
  readonly version: number;
  /** What the practice of the plan says. */
  readonly practiceVersion: number;
}

export type Note = 'version';

export function words({ vlans, version, practiceVersion }: Facts): FindingWords<Note> {
  return {
    what: `${vlansWords(vlans.map(({ name }) => name))} ${agree(vlans.length, 'runs', 'run')} IGMP ${version}, the practice of the plan is IGMP ${practiceVersion}`,
    onAir:
      version < practiceVersion
        ? 'nothing while no receiver there asks for a source; then the request loses its source, and whoever relies on it gets all senders of the group or none'
        : `boxes set to IGMP ${practiceVersion} as everywhere else meet queries they may not understand, and one of them that queries makes the whole VLAN fall back`,
    fix: `set IGMP ${practiceVersion} there, or change \`practice: {igmpVersion: …}\``,
    label: (name) => `${name}: IGMP ${version}`,
  };
}
