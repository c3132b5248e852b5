/** Phrases of the report on clocks: why one leads, and what a loss does. */
import {
  advantageOf,
  type Clock,
  type Handover,
  type Leader,
  type LossResult,
  type Span,
  type Step,
  type TakeoverTimes,
  type TimingGroup,
} from '../../model/timing/index.js';
import { prose, say, sayAll, sayNames, type Phrase } from '../../page/phrase.js';
import { secondsWords, stepValue, TRANSPORTS } from '../../words/clocks.js';
import { agree, counted } from '../../words/counts.js';

/** `DOMAIN 127 over UDP/IPv4: media`. */
export function groupTitle({
  domain,
  transport,
  planned,
}: Pick<TimingGroup, 'domain' | 'transport' | 'planned'>): string {
  const names = [...new Set(planned.flatMap((one) => one.name ?? []))];
  return `DOMAIN ${domain} over ${TRANSPORTS[transport]}${names.length === 0 ? '' : `: ${names.join(', ')}`}`;
}

/** `before clock-202 by priority2, 1 against 2`. */
export function whyWords({ clock, why }: Pick<Leader, 'clock' | 'why'>): Phrase {
  if (why === undefined) return say`nobody else in reach may lead`;
  const { rival, step, rivalIsBetter } = why;
  if (isOpenTie({ clock, why }))
    return say`OPEN: it ties with ${rival.name} on all before the clock identity, and the plan does not state the identities; either may lead, and what follows takes ${clock.name}`;
  const values = `${stepValue(clock, step)} against ${stepValue(rival, step)}`;
  const guess = clock.assumed.has(factOf(step)) || rival.assumed.has(factOf(step)) ? ', not stated for both' : '';
  const barred = 'a port only leads or a clock of class 127 or lower does not follow';
  if (rivalIsBetter) {
    const better = say`although ${rival.name} has the better ${step} (${prose(values)}${guess})`;
    return say`${better}: its claim does not reach, because ${prose(barred)}`;
  }
  return say`before ${rival.name} by ${step} (${prose(values)}${guess})`;
}

/** Whether nobody can tell which of the two leads; the tree then shows one of them. */
function isOpenTie({ clock, why }: Pick<Leader, 'clock' | 'why'>): boolean {
  return why !== undefined && advantageOf(clock, why.rival, why.step).by === 'unstated identity';
}

/** `clock-201 or clock-202` where they tie on all that the plan states. */
export function leaderWords({ clock, why }: Pick<Leader, 'clock' | 'why'>): Phrase {
  return why !== undefined && isOpenTie({ clock, why }) ? say`${clock.name} or ${why.rival.name}` : say`${clock.name}`;
}

function factOf(step: Step): 'identity' | Exclude<Step, 'stepsRemoved' | 'sender' | 'receiver'> {
  return step === 'stepsRemoved' || step === 'sender' || step === 'receiver' ? 'identity' : step;
}

type Effect = Pick<LossResult, 'handovers' | 'rerouted' | 'reroutedIn' | 'alone'>;

/** What a loss does, the worst last so that it is not overlooked. */
export function effectWords({ handovers, rerouted, reroutedIn, alone }: Effect, most: number): Phrase {
  const phrases = [
    ...handovers.map((one) => handoverWords(one)),
    ...(rerouted.length === 0
      ? []
      : [
          say`${clocksNamed(rerouted, most)} ${agree(rerouted.length, 'keeps', 'keep')} the grandmaster by another path ${whenWords('after', reroutedIn)}`,
        ]),
    ...(alone.length === 0
      ? []
      : [
          say`ALONE: ${sayNames(
            alone.map((one) => one.name),
            most,
          )}`,
        ]),
  ];
  return phrases.length === 0 ? say`nothing changes` : sayAll(phrases);
}

function handoverWords({ from, to, followers, times, stillLeads }: Handover): Phrase {
  const who = to.meantToLead ? say`${to.name}` : say`${to.name}, WHICH IS NOT MEANT TO LEAD,`;
  const takes = say`${who} takes over from ${from.name} ${whenWords('within', times.standby)}`;
  const others = followers.filter((one) => one.owner !== to.owner);
  const whole =
    others.length === 0 ? takes : say`${takes}, ${clocksNamed(others, 3)} ${whenWords('after', times.followers)}`;
  const then = stillLeads ? say`${whole}, while ${from.name} leads the rest` : whole;
  return sayAll([then, ...betweenWords(times), ...circlingWords(times)]);
}

function whenWords(before: string, span: Span | undefined): Phrase {
  return span === undefined ? prose('at a time that is NOT KNOWN') : say`${prose(before)} ${secondsWords(span)}`;
}

/** Boundary clocks that lead for a while, by name: their time is nobody's. */
function betweenWords({ between }: TakeoverTimes): readonly Phrase[] {
  if (between.length === 0) return [];
  const names = between.map(({ grandmaster }) => grandmaster.name);
  const [longest] = between;
  return [say`in between some follow ${sayNames(names, 3)}, for up to ${seconds(longest?.longestS ?? 0)} s`];
}

function circlingWords({ circlingS }: TakeoverTimes): readonly Phrase[] {
  if (circlingS === undefined) return [];
  return [
    say`ANNOUNCES OF WHAT IS LOST MAY CIRCLE in the ring, for up to ${seconds(circlingS)} s: let no port of it be masterOnly`,
  ];
}

function seconds(value: number): string {
  return String(Number(value.toPrecision(2)));
}

function clocksNamed(clocks: readonly Clock[], most: number): Phrase {
  return clocks.length > most
    ? say`${counted(clocks.length, 'clock')}`
    : sayNames(
        clocks.map((one) => one.name),
        most,
      );
}
