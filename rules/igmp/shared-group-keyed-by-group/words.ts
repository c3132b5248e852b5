import {
  agree,
  formatRate,
  legLabel,
  listNames,
  receiverLegLabel,
  type FindingWords,
  type Leg,
  type NonEmpty,
  type ReceiverLeg,
  type Switch,
} from '../../../src/doors/rule.js';

export interface Facts {
  readonly group: string;
  /** Where it is shared: `VLAN red-video`. */
  readonly where: string;
  readonly legs: readonly Leg[];
  /** Those that do not forward by source, and what each forwards by as far as stated. */
  readonly switches: NonEmpty<{ readonly switch: Switch; readonly by: 'mac' | 'group' | undefined }>;
  /** Those that get more than they ask for. */
  readonly receivers: readonly ReceiverLeg[];
  /** The one that gets most, and what arrives at its port; 0 where no rate is known. */
  readonly worst: ReceiverLeg;
  readonly loadBps: number;
}

/** What a switch's table is keyed by. */
export type Note = 'key';

export function words({ group, where, legs, switches, receivers, worst, loadBps }: Facts): FindingWords<Note> {
  const [{ by: first }] = switches;
  const count = receivers.length;
  const keys = switches.map(({ switch: { name }, by }) =>
    by === undefined ? `${name}, which does not say, is taken to forward by group` : `${name} forwards by ${KEYS[by]}`,
  );
  const load = loadBps === 0 ? '' : `: ${formatRate(loadBps)} at the port of ${receiverLegLabel(worst)}`;
  return {
    what: `${listNames(legs.map(legLabel), 4)} share group ${group} in ${where} and differ by source, but ${listNames(keys, 3)}`,
    onAir: `${listNames(receivers.map(receiverLegLabel), 4)} ${agree(count, 'gets', 'get')} all of them on the wire and ${agree(count, 'drops', 'drop')} what ${agree(count, 'it', 'they')} did not ask for${load}; a port too small for the sum loses packets of the wanted one`,
    fix: 'give each stream a group of its own, or use switches that forward by source and group (`snoopingKey: source-group`)',
    label: (name) =>
      `${name}: ${first === undefined ? 'does not say what its table is keyed by' : `table keyed by ${KEYS[first]}`}`,
  };
}

const KEYS = { mac: 'multicast MAC', group: 'group' } as const;
