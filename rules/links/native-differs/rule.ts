import { createEditList, likely, setOnPorts } from '../../../src/doors/cures.js';
import {
  clauseFromMemory,
  commonPractice,
  defineRule,
  linkLabel,
  mark,
  noted,
  portLabel,
  type Mark,
  type Port,
  type Vlan,
} from '../../../src/doors/rule.js';
import { linkDifference, linkEnds } from '../../../src/doors/links.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'links/native-differs',
  summary: 'The two ends of a link send different VLANs without a tag',
  severity: 'error',
  sources: [
    clauseFromMemory('IEEE 802.1Q-2022', '6.9'),
    commonPractice('the native VLAN is the same at both ends of a link'),
  ],
  needs: ['links', 'portVlans'],
  brief: 'untagged VLANs differ',
  explains: ['no link'],
  harm: 'others',
  *check({ plan }) {
    for (const link of plan.links) {
      const difference = linkDifference(link);
      if (difference?.untagged === undefined) continue;
      const [{ port: a }, { port: b }] = difference.ends;
      const [here, there] = difference.untagged;
      yield {
        subject: linkEnds(link),
        parties: [portLabel(a), portLabel(b), ...difference.untagged.flatMap((vlan) => vlan?.name ?? [])],
        cure: () => {
          const [port, vlan] =
            here === undefined ? [a, there] : there === undefined ? [b, here] : [undefined, undefined];
          const edits = createEditList();
          if (port?.trunk !== undefined && vlan !== undefined && a.trunk !== undefined && b.trunk !== undefined)
            setOnPorts(edits, [port], { native: vlan.name });
          return likely(edits, 'which VLAN passes without a tag');
        },
        facts: {
          link,
          ends: [
            { port: a, vlan: here },
            { port: b, vlan: there },
          ],
        },
        at: untaggedMark(a, here),
        others: [untaggedMark(b, there)],
        touch: { kind: 'link', name: linkLabel(link) },
      };
    }
  },
  words,
});

function untaggedMark(port: Port, vlan: Vlan | undefined): Mark<Note> {
  if (vlan === undefined) return noted(mark(port, portLabel(port), 'trunk'), 'taggedOnly');
  const kind = port.access === vlan ? 'access' : 'native';
  return noted(mark(port, portLabel(port), kind), { kind, vlan });
}
