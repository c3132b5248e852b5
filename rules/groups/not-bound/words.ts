import {
  agree,
  byLabel,
  listNames,
  receiverLegLabel,
  type Domain,
  type FindingWords,
  type ReceiverLeg,
  type Switch,
} from '../../../src/doors/rule.js';
import type { MissingGroup } from '../../../src/doors/groups.js';

export interface Facts {
  readonly switch: Switch;
  readonly domain: Domain;
  /** Whether the switch states that it drops what it does not bind. */
  readonly isStated: boolean;
  /** In address order. */
  readonly groups: readonly (Pick<MissingGroup, 'ports'> & { readonly group: string })[];
  /** Who does not get them. */
  readonly takers: readonly ReceiverLeg[];
}

/** The table of the switch; a receiver that takes what it leaves out. */
export type Note = 'table' | 'takes';

const MOST = 6;

export function words({ switch: one, domain, isStated, groups, takers }: Facts): FindingWords<Note> {
  return {
    what: `${one.name} binds groups to ports by hand in ${domain.title} and leaves out ${listNames(groups.map(outWords), MOST)}, which ${listNames(takers.map(receiverLegLabel), 3)} ${agree(takers.length, 'takes', 'take')}${isStated ? '' : ' (it is taken to drop what it does not bind; `unregistered` does not say)'}`,
    onAir: 'the stream ends at the switch: no picture or sound behind it, whatever the receiver joins',
    fix: `add to \`bindings\` of ${one.name}: ${listNames(groups.map(outWords), MOST)}`,
    label: (place, note) => (note === 'table' ? `${place}: what it binds` : `${place}: takes it`),
  };
}

/** `239.1.1.1 to port 49`, `239.1.1.2 to port 1 and to port 47 or 48`. */
function outWords({ group, ports }: Facts['groups'][number]): string {
  const ways = ports.map((any) => `to port ${any.map(({ name }) => name).join(' or ')}`);
  return `${group} ${listNames(byLabel(ways, (way) => way))}`;
}
