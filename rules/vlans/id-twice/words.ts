import { byLabel, linkLabel, listNames, withRig, type FindingWords, type Vlan } from '../../../src/doors/rule.js';
import type { MeetingForm } from '../../../src/doors/vlans.js';

interface Common {
  readonly id: number;
  readonly vlans: readonly Vlan[];
  /** The one to give another id, the first of those of its rig that move. */
  readonly move: Vlan;
  /** The others that move with it. */
  readonly moveToo: readonly Vlan[];
  /** An id for it. */
  readonly free: number | undefined;
}

export type Facts = Common & MeetingForm;

export type Note = 'move';

export function words(facts: Facts): FindingWords<Note> {
  const { id, vlans, move, free } = facts;
  const names = listNames(namesIn(vlans));
  const [name = ''] = namesIn([move], vlans);
  return {
    what:
      facts.form === 'site'
        ? `id ${id} has ${vlans.length > 2 ? 'several' : 'two'} meanings on one site: ${names}`
        : `VLANs ${names} have one id, ${id}${whereWords(facts)}`,
    onAir: `${WHEN[facts.form]}the switches know one VLAN where the plan has ${vlans.length}: its streams, queries and DHCP answers mix, and hosts hear groups and get addresses of the other`,
    fix: `give ${name} an id of its own, here and on every switch${free === undefined ? '' : `; ${free} is free`}${restWords(facts)}`,
    label: (place) => `${place}: give it another id`,
  };
}

/** Names of VLANs, with their rigs where those of several are told apart. */
export function namesIn(vlans: readonly Vlan[], among: readonly Vlan[] = vlans): readonly string[] {
  const rigs = new Set(among.map(({ rig }) => rig));
  return vlans.map((vlan) => (rigs.size > 1 ? withRig(vlan) : vlan.name));
}

const WHEN: Readonly<Record<Facts['form'], string>> = {
  links: '',
  network: '',
  notStated: 'where one switch carries both, ',
  site: 'nothing while links and trunks keep them apart; with the first trunk that carries all, or a box patched to the switch of the other rig, ',
};

function whereWords(facts: Facts): string {
  switch (facts.form) {
    case 'links': {
      const places = facts.places.map((one) =>
        'link' in one ? `link ${linkLabel(one.link)}` : `switch ${one.switch.name}`,
      );
      return `, and meet on ${listNames(
        byLabel([...new Set(places)], (place) => place),
        3,
      )}`;
    }
    case 'network':
      return ` in network ${facts.network.name}`;
    case 'notStated':
      return ', and nothing says that they are on networks of their own';
    case 'site':
      return '';
  }
}

function restWords({ form, vlans, moveToo }: Facts): string {
  if (form !== 'site') return vlans.length > 2 ? ', and the others too' : '';
  const rigs = new Set(vlans.map(({ rig }) => rig)).size;
  const rest = [...moveToo.map(withRig), ...(rigs > 2 ? ['those of all rigs but one'] : [])];
  return rest.length === 0 ? '' : `; the same for ${listNames(rest)}`;
}
