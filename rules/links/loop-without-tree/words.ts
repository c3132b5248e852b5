import {
  agree,
  linkLabel,
  listNames,
  type FindingWords,
  type Link,
  type NonEmpty,
  type Switch,
  type Vlan,
} from '../../../src/doors/rule.js';

export interface Facts {
  readonly links: NonEmpty<Link>;
  readonly silent: NonEmpty<Switch>;
  readonly vlans: readonly Vlan[];
  /** False where a switch without a tree is only taken to drop what the others' trees send. */
  readonly stated: boolean;
}

export type Note = 'none' | 'loop';

export function words({ links, silent, vlans, stated }: Facts): FindingWords<Note> {
  const names = listNames(
    silent.map(({ name }) => name),
    4,
  );
  const assumed = stated
    ? ''
    : `, if ${names} ${agree(silent.length, 'drops', 'drop')} the frames of the others' trees (BPDUs), which the plan does not say`;
  return {
    what: `links ${listNames(links.map(linkLabel), 6)} make a loop for ${listNames(
      vlans.map(({ name }) => name),
      4,
    )}, and ${agree(silent.length, 'switch', 'switches')} ${names} ${agree(silent.length, 'runs', 'run')} no spanning tree${assumed}`,
    onAir:
      'the first broadcast or flooded frame goes round without end and fills every link of the loop: all streams of these VLANs break up at once, and switches may no longer be reached',
    fix: `run a tree on ${names}, make parallel links an aggregate, or take one link of the loop out${stated ? '' : '; where it passes BPDUs, state `bpdus: pass`'}`,
    label: (name, note) => (note === 'none' ? `${name} runs no tree` : `${name}, in the loop`),
  };
}
