import { listNames, type FindingWords, type NonEmpty, type Vlan } from '../../../src/doors/rule.js';
import { elementLabel, sharedLabel, type NamedElement, type SharedNote } from '../../../src/doors/redundancy.js';

export interface Facts {
  /** Where the queriers are, or what they hang on. */
  readonly element: NamedElement;
  /** Those left without a querier. */
  readonly vlans: NonEmpty<Vlan>;
  /** Both of whose legs they carry. */
  readonly streams: readonly string[];
  /** Until what was joined is forgotten. */
  readonly withinS: number;
  /** Both networks are stated to flood while they hear no querier. */
  readonly floods: boolean;
}

export type Note = SharedNote | 'querier';

export function words({ element, vlans, streams, withinS, floods }: Facts): FindingWords<Note> {
  const name = elementLabel(element);
  return {
    what: `the only queriers of ${listNames(vlans.map((vlan) => `VLAN ${vlan.name}`))}, which carry both legs of ${listNames(streams, 4)}, ${element.kind === 'power feed' ? 'depend on' : 'are in'} ${name}`,
    onAir: floods
      ? `when ${name} fails both networks flood every stream to every port within ${withinS} s, and slow ports drop packets on both legs`
      : `when ${name} fails the switches of both networks forget who joined what within ${withinS} s: both legs stop, one after the other`,
    fix: 'let a switch of each network query in its own VLANs, or name a second querier for one of them',
    label: (place, note) => (note === 'querier' ? `${place}: querier` : sharedLabel(place, note)),
  };
}
