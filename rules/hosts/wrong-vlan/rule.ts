import { createEditList, likely, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  entityLabel,
  inPrefix,
  inRig,
  isIPv4,
  mark,
  noted,
  portLabel,
  subnetFor,
  touchOfKind,
  type Interface,
  type Mark,
  type Vlan,
} from '../../../src/doors/rule.js';
import type { WrongVlan } from '../../../src/doors/hosts.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'hosts/wrong-vlan',
  summary: 'An interface is written in another VLAN than its port and its address say',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 802.1Q-2022', '6.9'),
    commonPractice('where port and address agree on a VLAN, the name of another one is the slip'),
  ],
  needs: ['interfaceVlans'],
  confidence: 'likely',
  brief: 'written in the wrong VLAN',
  harm: 'unicast',
  explains: ['port outside VLAN', 'not routed'],
  *check({ model }) {
    for (const line of byLabel(model.wrongVlans.lines, subjectOf)) {
      const { kind, vlan, home, interfaces } = line;
      const [first] = interfaces;
      const label = kind === undefined ? entityLabel(first) : `kind ${kind.name}, ${first.name}`;
      const patched = interfaces.filter(({ port }) => port !== undefined);
      yield {
        subject: subjectOf(line),
        parties: [...interfaces.map(entityLabel), vlan.name, home.name],
        cure: () => cure(line),
        facts: {
          kind: kind?.name,
          name: first.name,
          vlan,
          home,
          interfaces,
          users: line.users,
          ports: byLabel([...new Set(patched.flatMap(({ port }) => port ?? []))], portLabel),
          addressed: interfaces.filter((one) => addressKey(one, home) !== undefined).length,
        },
        at: noted(mark(first, label, 'vlan'), { vlan }),
        others: [...interfaces.flatMap((one) => witnessOf(one, home)), mark(home, `VLAN ${home.name}`)],
        touch: kind === undefined ? { kind: 'device', name: first.device.name } : touchOfKind(kind),
      };
    }
  },
  words,
});

function subjectOf({ kind, vlan, interfaces: [first] }: WrongVlan): string {
  const whose = kind === undefined ? entityLabel(first) : `kind ${kind.name} ${first.name}`;
  return `${whose} in ${vlan.name}${inRig(first.device.rig)}`;
}

/** What says that an interface is in its other VLAN. */
function witnessOf(one: Interface, home: Vlan): readonly Mark<Note>[] {
  const key = addressKey(one, home) ?? (one.port === undefined ? undefined : 'port');
  return key === undefined ? [] : [mark(one, entityLabel(one), key)];
}

function addressKey({ address, address6 }: Interface, home: Vlan): 'address' | 'address6' | undefined {
  const held = address ?? address6;
  const subnet = held === undefined ? undefined : subnetFor(home, held);
  if (held === undefined || subnet === undefined || !inPrefix(held, subnet)) return undefined;
  return isIPv4(held) ? 'address' : 'address6';
}

/** The name where it is written, in the kind too: all its boxes are meant. */
function cure({ kind, home, interfaces: [first] }: WrongVlan): Cure {
  const edits = createEditList();
  if (kind === undefined) edits.set(first, 'vlan', home.name);
  else edits.setWhereWritten(first, 'vlan', home.name);
  return likely(edits);
}
