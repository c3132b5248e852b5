import { createEditList, likely, peopleDecide, addToTrunk } from '../../../src/doors/cures.js';
import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  isNonEmpty,
  linkLabel,
  mapAll,
  mark,
  noted,
  portLabel,
  type Mark,
  type Port,
  type Vlan,
} from '../../../src/doors/rule.js';
import { linkDifference, createCuts, linkEnds, type Cut } from '../../../src/doors/links.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'links/vlans-differ',
  summary: 'The two ends of a link carry different VLANs',
  severity: 'error',
  sources: [clauseFromMemory('IEEE 802.1Q-2022', '8.6'), commonPractice('both ends of a trunk carry the same VLANs')],
  needs: ['links', 'portVlans'],
  brief: 'ends carry different VLANs',
  explains: ['no link'],
  harm: 'others',
  *check({ plan, model }) {
    const cutOf = createCuts(plan, model.domains);
    for (const link of plan.links) {
      const found = linkDifference(link)?.missing ?? [];
      if (!isNonEmpty(found)) continue;
      const missing = mapAll(found, ({ end, vlans }) => ({
        port: end.port,
        vlans: byLabel(vlans, ({ name }) => name),
      }));
      const [first, ...rest] = missing;
      const lost = [...new Set(missing.flatMap(({ vlans }) => vlans.map(({ name }) => name)))];
      const cuts = new Map(missing.flatMap(({ vlans }) => vlans).map((vlan) => [vlan.name, cutOf(link, vlan)]));
      const cut = worst([...cuts.values()]);
      const whole = link.ends.flatMap(({ port }) =>
        port === undefined || missing.some((one) => one.port === port) ? [] : [port],
      );
      yield {
        subject: linkEnds(link),
        severity: SEVERITY[cut],
        confidence: cut === 'unplaced' ? 'assumed' : 'certain',
        parties: [...missing.map(({ port }) => portLabel(port)), ...lost],
        cure: () => {
          const edits = createEditList();
          const done = missing.every(({ port, vlans }) => addToTrunk(edits, port, vlans));
          return done ? likely(edits) : peopleDecide('what the port is set to');
        },
        facts: {
          link,
          carriedBy: link.vlans === undefined ? 'otherEnd' : 'link',
          missing,
          lost: byLabel(lost, (name) => name),
          cut,
          cutVlans: byLabel(
            lost.filter((name) => cuts.get(name) === cut),
            (name) => name,
          ),
        },
        at: lacking(first.port, first.vlans),
        others: [
          ...rest.map(({ port, vlans }) => lacking(port, vlans)),
          ...(link.vlans === undefined
            ? whole.map((port) => noted(mark(port, portLabel(port), 'trunk'), { kind: 'carries', vlans: first.vlans }))
            : [mark(link, `link ${linkLabel(link)}`, 'vlans')]),
        ],
        touch: { kind: 'switch', name: first.port.switch.name },
      };
    }
  },
  words,
});

function lacking(port: Port, vlans: readonly Vlan[]): Mark<Note> {
  const key = port.trunk === undefined ? 'access' : 'trunk';
  return noted(mark(port, portLabel(port), key), { kind: 'without', vlans });
}

/** Worst first. */
const CUTS: readonly Cut[] = ['apart', 'unplaced', 'joined', 'one side'];

const SEVERITY = { apart: 'error', unplaced: 'warning', joined: 'warning', 'one side': 'note' } as const;

function worst(cuts: readonly Cut[]): Cut {
  return CUTS.find((cut) => cuts.includes(cut)) ?? 'unplaced';
}
