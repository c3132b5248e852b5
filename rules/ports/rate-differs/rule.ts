import { createEditList, likely, peopleDecide, writtenAt, setOnPorts } from '../../../src/doors/cures.js';
import {
  byLabel,
  commonPractice,
  defineRule,
  entityLabel,
  groupBy,
  mapAll,
  mark,
  noted,
  portLabel,
  type Interface,
} from '../../../src/doors/rule.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'ports/rate-differs',
  summary: 'An interface and its switch port have different rates',
  severity: 'warning',
  sources: [commonPractice('both ends of a cable run at one rate')],
  needs: ['switchPorts'],
  brief: 'port rate differs',
  *check({ plan }) {
    const differing = plan.interfaces.filter(differs);
    // Interfaces of one rate on one range of ports together.
    for (const onRange of groupBy(differing, ({ port }) => port?.origin.container).values()) {
      for (const [rateBps, alike] of groupBy(onRange, (one) => one.rateBps)) {
        const interfaces = byLabel(alike, entityLabel);
        const [first] = interfaces;
        const { port } = first;
        if (port?.rateBps === undefined) continue;
        const ports = byLabel(
          interfaces.flatMap((one) => one.port ?? []),
          portLabel,
        );
        const names = ports.map(portLabel);
        const [at, ...rest] = mapAll(interfaces, (one) => noted(mark(one, entityLabel(one), 'rate'), { rateBps }));
        yield {
          subject: `${entityLabel(first)} on ${portLabel(first.port ?? port)}`,
          parties: [...interfaces.map(entityLabel), ...names],
          cure: () => {
            const edits = createEditList();
            const set = setOnPorts(
              edits,
              interfaces.flatMap((one) => one.port ?? []),
              { rate: writtenAt(first, 'rate') },
            );
            const on = new Set(interfaces.map(({ port: its }) => its));
            const others = plan.interfaces.some((one) => on.has(one.port) && one.rateBps !== rateBps);
            return set && !others ? likely(edits) : peopleDecide('at which rate the port runs');
          },
          facts: { interfaces, rateBps, ports, portRateBps: port.rateBps },
          at,
          others: [...rest, noted(mark(port, portLabel(port), 'rate'), { ports: names, rateBps: port.rateBps })],
          touch: { kind: 'device', name: first.device.name },
        };
      }
    }
  },
  words,
});

function differs({ port, rateBps }: Interface): boolean {
  return port?.rateBps !== undefined && rateBps !== undefined && rateBps !== port.rateBps;
}
