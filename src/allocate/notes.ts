/** What the engineer ought to know of a plan that was allocated. */
import type { Plan } from '../plan/types.js';
import { groupBy } from '../collections/group-by.js';
import { agree } from '../words/counts.js';
import { listNames } from '../words/lists.js';
import type { Decided } from './build.js';

export function notesOn(decided: Decided, plans: readonly Plan[]): readonly string[] {
  return [...outgrown(decided), ...astray(decided), ...strayPlugs(decided), ...namesakes(decided, plans)];
}

const MOST_NAMED = 10;

function outgrown({ layout, demand }: Decided): readonly string[] {
  return layout.outgrown.map((line) => {
    const [first, ...more] = (layout.blocks.get(line) ?? []).map((block) => `${block.first} to ${block.last}`);
    const boxes = line.devices.length;
    return `${line.raw.name} has outgrown ${first ?? ''}; the rest has ${more.join(', ')}. To have all in one block, let its ${boxes} boxes move: \`moves: [${[...(demand.request.moves ?? []), line.raw.name].join(', ')}]\``;
  });
}

function astray({ assignment, demand }: Decided): readonly string[] {
  const fixed = new Set((demand.request.fixed ?? []).map(({ device }) => device));
  return assignment.astray
    .filter(({ name }) => !fixed.has(name))
    .map(
      (device) =>
        `${device.name} stands outside the block of ${device.line.raw.name}: unit ${assignment.numbers.get(device)?.unit ?? ''}`,
    );
}

/** Boxes that are plugged in another area than they stand in. */
function strayPlugs({ patching: { elsewhere } }: Decided): readonly string[] {
  const alike = groupBy(elsewhere, ({ plug, at, why }) => JSON.stringify([plug.device.line.raw.area, at.index, why]));
  return [...alike.values()].map((own) => {
    const [{ plug, at, why }] = own;
    const area = plug.device.line.raw.area ?? '';
    const network = at.network.raw.name;
    const reason = {
      'no switch': `network ${network} has no switch in area ${area}`,
      full: `the switches of network ${network} in area ${area} have no port left that is fast enough`,
      stayed: `earlier numbers hold`,
    }[why];
    const there = at.raw.area === undefined ? '' : ` in area ${at.raw.area}`;
    const names = [...new Set(own.map((one) => one.plug.device.name))];
    const are = agree(names.length, 'stands', 'stand');
    return `${listNames(names, MOST_NAMED)} ${are} in area ${area} and ${agree(names.length, 'is', 'are')} plugged into ${at.raw.name}${there}: ${reason}`;
  });
}

/** Boxes that share their name with one of another rig on site. */
function namesakes({ demand: { devices, switches } }: Decided, plans: readonly Plan[]): readonly string[] {
  const rigOf = new Map(
    plans.flatMap((plan) => [...plan.devices, ...plan.switches].map(({ name, rig }) => [name, rig.name] as const)),
  );
  const shared = [...devices.map(({ name }) => name), ...switches.map(({ raw }) => raw.name)].flatMap((name) => {
    const rig = rigOf.get(name);
    return rig === undefined ? [] : [{ name, rig }];
  });
  return [...groupBy(shared, ({ rig }) => rig)].map(([rig, own]) => {
    const names = listNames(
      own.map(({ name }) => name),
      MOST_NAMED,
    );
    return `${rig}, to be kept clear of, has boxes of the same names, which nobody can tell apart on the radio: ${names}`;
  });
}
