/** How rigs meet: whose clock leads, who queries, which groups both hand out. */
import type { Meeting, OfRig } from '../../merge/meeting.js';
import type { Row } from '../../page/page.js';
import { prose, say, sayAll, sayNames, type Phrase } from '../../page/phrase.js';
import { row } from '../../page/rows.js';
import { agree, counted } from '../../words/counts.js';

const MOST_ROWS = 12;

export function meetingRows(meeting: Meeting): readonly Row[] {
  return [...clockRows(meeting), ...querierRows(meeting), ...rangeRows(meeting)];
}

export function clockRows({ clocks, timeApart }: Meeting): readonly Row[] {
  const apart = timeApart.map(
    ({ rig, domains }) => `${rig} in ${agree(domains.length, 'domain')} ${domains.join(', ')}`,
  );
  return [
    ...row('Clocks', ...clocks.map(domainWords)),
    ...(apart.length === 0
      ? []
      : row(
          'Clocks',
          say`the rigs keep apart: ${sayNames(apart)}; what passes between them slips unless both have a reference`,
        )),
  ];
}

function domainWords({ domain, leaders, step }: Meeting['clocks'][number]): Phrase {
  const lead =
    leaders.length === 0
      ? say`domain ${String(domain)}: nobody leads`
      : say`domain ${String(domain)}: ${sayNames(leaders.map(nameOfRig))} ${agree(leaders.length, 'leads all', 'lead, each its own part')}`;
  const steps = step.map(
    ({ clocks, rig, from }) =>
      say`${counted(clocks, 'clock')} of ${rig} ${agree(clocks, 'steps', 'step')} when the rigs are joined, off ${from}`,
  );
  return sayAll([lead, ...steps]);
}

function querierRows({ queriers }: Meeting): readonly Row[] {
  const texts = queriers.map(({ where, winner, silent }) => {
    const many = silent.length;
    const others = say`${sayNames(silent.map(nameOfRig))} ${agree(many, 'falls', 'fall')} silent and ${agree(many, 'stands', 'stand')} by`;
    return say`${prose(where)}: ${nameOfRig(winner)} queries, from ${winner.address}; ${others}`;
  });
  return row('Queriers', ...cutShort(texts));
}

function rangeRows({ ranges }: Meeting): readonly Row[] {
  if (ranges.length === 0) return [];
  const agreed = 'groups both rigs hand out; agree who takes which before anything new is numbered:';
  return row(
    'Ranges',
    ...cutShort([prose(agreed), ...ranges.map(({ range, rigs }) => say`${range}, by ${sayNames(rigs)}`)]),
  );
}

function nameOfRig({ name, rig }: OfRig): string {
  return `${name} of ${rig}`;
}

/** No more lines than a reader takes in; the last says how many are left out. */
export function cutShort(texts: readonly Phrase[]): readonly Phrase[] {
  if (texts.length <= MOST_ROWS) return texts;
  const shown = texts.slice(0, MOST_ROWS - 1);
  return [...shown, prose(`and ${texts.length - shown.length} more, all in the JSON report`)];
}
