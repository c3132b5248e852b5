import { createEditList, likely, peopleDecide, type Cure, usualVlanOf } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  clauseFromMemory,
  commonPractice,
  defineRule,
  formatPrefix,
  inRig,
  mark,
  noted,
  ownerLabel,
  type Device,
  type Interface,
  type Model,
  type Vlan,
} from '../../../src/doors/rule.js';
import { areSeveral, meetingInterfaces, type MeetingInterfaces, type Several } from '../../../src/doors/hosts.js';
import { words, type Facts } from './words.js';

const HOSTS = [
  clause('RFC 1122', '3.3.4.2'),
  clause('RFC 3376', '3.2'),
  commonPractice('one subnet for each interface of a device'),
];
const MEDIA = [clause('JT-NM TR-1001-1', 'media nodes'), clauseFromMemory('ST 2022-7', 'scope')];

export default defineRule<Facts, 'move'>({
  id: 'hosts/two-in-one-subnet',
  summary: 'Two interfaces of one device are in one subnet',
  severity: 'error',
  sources: [...HOSTS, ...MEDIA],
  needs: ['addresses'],
  brief: 'two interfaces in one subnet',
  harm: 'exposes',
  *check({ plan, model }) {
    for (const device of plan.devices) {
      for (const { interfaces, where } of meetingInterfaces(device)) {
        // One that is only written into the VLAN is not in it: `hosts/wrong-vlan`.
        const here = interfaces.filter((one) => model.wrongVlans.of(one) === undefined);
        const sorted = healthyFirst(model, byLabel(here, ownerLabel));
        if (!areSeveral(sorted)) continue;
        const use = useOf(sorted, where);
        const pairs = use === 'control' ? [] : pairsAcross(device, sorted);
        if (use === 'media' && pairs.length === 0) continue;
        const moved = pairs[0]?.second ?? sorted[1];
        const names = sorted.map((one) => one.name);
        yield {
          subject: `${device.name} ${names.join(', ')}${inRig(device.rig)}`,
          parties: sorted.map(ownerLabel),
          severity: use === 'control' ? 'error' : 'warning',
          confidence: use === 'unsaid' && pairs.length === 0 ? 'assumed' : 'certain',
          cure: () => cure(model, sorted),
          facts: {
            device,
            interfaces: names,
            where: where === undefined || 'vlan' in where ? where : { subnet: formatPrefix(where.subnet) },
            use,
            pairs: pairs.map(({ label }) => label),
          },
          sources: use === 'media' ? MEDIA : HOSTS,
          at: noted(mark(moved, ownerLabel(moved), keyOf(moved)), 'move'),
          others: sorted.filter((one) => one !== moved).map((one) => mark(one, ownerLabel(one), keyOf(one))),
          touch: { kind: 'device', name: device.name },
        };
      }
    }
  },
  words,
});

function keyOf(one: Interface): string {
  return one.address !== undefined ? 'address' : one.address6 !== undefined ? 'address6' : 'vlan';
}

const MEDIA_ROLES: ReadonlySet<string | undefined> = new Set(['media', 'audio', 'intercom']);

/** Several interfaces in one media network are usual; in another they are one too many, or a bond. */
function useOf(interfaces: Several<Interface>, where: MeetingInterfaces['where']): Facts['use'] {
  const networks = new Set(interfaces.map(({ network }) => network));
  const [network] = networks;
  if (networks.size === 1 && network?.role !== undefined) return MEDIA_ROLES.has(network.role) ? 'media' : 'control';
  return where !== undefined && 'vlan' in where ? 'unsaid' : 'control';
}

/** A redundant stream of the device, with the interface of a later leg. */
interface Pair {
  readonly label: string;
  readonly second: Interface;
}

/** Those that have their legs on several of the interfaces. */
function pairsAcross({ senders, receivers }: Device, interfaces: Several<Interface>): readonly Pair[] {
  return [...senders, ...receivers].flatMap(({ label, legs }) => {
    const [first, ...later] = legs.flatMap(({ interface: via }) =>
      via !== undefined && interfaces.includes(via) ? [via] : [],
    );
    const second = later.find((via) => via !== first);
    return second === undefined ? [] : [{ label, second }];
  });
}

/** The one that is not where interfaces of its name are in other devices of the kind goes there. */
function cure(model: Model, interfaces: readonly Interface[]): Cure {
  const edits = createEditList();
  const astray = interfaces.flatMap((one) => astrayFrom(model, one));
  const [odd] = astray;
  if (odd === undefined || astray.length > 1) return peopleDecide('which of the interfaces belongs elsewhere');
  edits.set(odd.one, 'vlan', odd.vlan.name);
  return likely(edits);
}

/** The interface with the VLAN that others of its name have; nothing where it is in that, or nobody can tell. */
function astrayFrom(model: Model, one: Interface): readonly { readonly one: Interface; readonly vlan: Vlan }[] {
  const vlan = usualVlanOf(model, one);
  return vlan === undefined || vlan === one.vlan ? [] : [{ one, vlan }];
}

function healthyFirst(model: Model, interfaces: readonly Interface[]): readonly Interface[] {
  const rank = (one: Interface): number => astrayFrom(model, one).length;
  return interfaces.toSorted((a, b) => rank(a) - rank(b));
}
