import { createEditList, likely } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  groupBy,
  mapAll,
  mark,
  noted,
  portLabel,
  type FindingDraft,
  type Mark,
  type NonEmpty,
  type Vlan,
  type Plan,
} from '../../../src/doors/rule.js';
import {
  linkEnds,
  mtuEntity,
  oddMtus,
  oncePerEntry,
  smallPorts,
  type OddMtu,
  type SizedPort,
} from '../../../src/doors/links.js';
import { words, type Facts, type Note } from './words.js';

type Draft = FindingDraft<Facts, Note>;

export default defineRule<Facts, Note>({
  id: 'links/mtu-differs',
  summary: 'Packets that one port of a path takes are too large for another',
  severity: 'warning',
  sources: [clause('RFC 2923', '2.1'), commonPractice('all ports of a VLAN take packets of the same size')],
  needs: ['portMtus'],
  brief: 'MTUs differ on the path',
  harm: 'later',
  *check({ plan }) {
    const small = smallPorts(plan);
    for (const [vlan, ports] of small) yield ofVlan(plan, vlan, vlan.mtu ?? 0, ports);
    const told = new Set([...small.values()].flat().map(({ port }) => port));
    for (const odd of oddMtus(plan, told)) yield ofEnd(odd);
  },
  words,
});

function ofVlan(plan: Plan, vlan: Vlan, promisedOctets: number, ports: NonEmpty<SizedPort>): Draft {
  const severalRigs = plan.rigs.length > 1;
  const bySwitch = byLabel([...groupBy(ports, ({ port }) => port.switch)], ([owner]) => owner.name);
  const [first, ...rest] = [
    ...oncePerEntry(bySwitch.flatMap(([, own]) => own)).map((one) => mtuMark(one, `switch ${one.port.switch.name}`)),
    noted(mark(vlan, `VLAN ${vlan.name}`, 'mtu'), { mtuOctets: promisedOctets }),
  ];
  return {
    subject: `VLAN ${vlan.name}${severalRigs ? ` of ${vlan.rig.name}` : ''}`,
    parties: [vlan.name, ...bySwitch.map(([owner]) => owner.name)],
    severity: 'error',
    cure: () => {
      const edits = createEditList();
      for (const { port } of ports) edits.set(mtuEntity(port), 'mtu', usualMtu(plan, vlan, promisedOctets));
      return likely(edits);
    },
    facts: {
      form: 'vlan',
      vlan,
      promisedOctets,
      smallestOctets: Math.min(...ports.map(({ mtuOctets }) => mtuOctets)),
      places: bySwitch.map(([owner, own]) => ({ switch: owner, ports: own.map(({ port }) => port.name) })),
    },
    at: first,
    others: rest,
    touch: { kind: 'switch', name: bySwitch[0]?.[0].name ?? '' },
  };
}

/** Links with one odd end, or one odd switch, together. */
function ofEnd({ steps, wantedOctets }: OddMtu): Draft {
  const [{ link, odd }] = steps;
  const owner = odd.port.switch;
  const whole = mtuEntity(odd.port) === owner;
  const others = oncePerEntry(steps.map((step) => step.other)).map((one) => mtuMark(one));
  return {
    subject: whole ? `switch ${owner.name}` : linkEnds(link),
    parties: [
      ...(whole ? [owner.name] : []),
      ...steps.flatMap((step) => [portLabel(step.odd.port), portLabel(step.other.port)]),
    ],
    cure: () => {
      const edits = createEditList();
      edits.set(mtuEntity(odd.port), 'mtu', wantedOctets[0]);
      return likely(edits);
    },
    facts: {
      form: whole ? 'switch' : 'port',
      switch: owner,
      mtuOctets: odd.mtuOctets,
      links: mapAll(steps, (step) => ({
        link: step.link,
        odd: step.odd.port,
        other: step.other.port,
        otherOctets: step.other.mtuOctets,
      })),
      wantedOctets,
      smallestOctets: Math.min(...steps.flatMap((step) => [step.odd.mtuOctets, step.other.mtuOctets])),
      lowest: steps.every((step) => step.odd.mtuOctets < step.other.mtuOctets),
    },
    at: mtuMark(odd),
    others: byLabel(others, ({ label }) => label),
    touch: { kind: 'switch', name: owner.name },
  };
}

/** Where the MTU of a port is written, called by the port or by the switch that says it for all. */
function mtuMark({ port, mtuOctets }: SizedPort, name?: string): Mark<Note> {
  const entity = mtuEntity(port);
  const own = entity === port ? portLabel(port) : `switch ${port.switch.name}`;
  return noted(mark(entity, name ?? own, 'mtu'), { mtuOctets });
}

/** What most switches of the rig take, of what holds the VLAN's promise; else just that. */
function usualMtu({ switches }: Plan, { rig }: Vlan, promisedOctets: number): number {
  const counts = new Map<number, number>();
  for (const one of switches)
    if (one.rig === rig && one.mtu !== undefined && one.mtu >= promisedOctets)
      counts.set(one.mtu, (counts.get(one.mtu) ?? 0) + 1);
  const [best] = [...counts].sort(([a, x], [b, y]) => y - x || b - a);
  return best?.[0] ?? promisedOctets;
}
