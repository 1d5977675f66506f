import {
  findingsOf,
  findingsOfTable,
  growthSeries,
  randomisationTest,
  tableRandomisationTest,
  type FindingsInput,
  type RandomisationAsked,
  type RandomisationInput,
  type TableReading,
  type TableRandomisationAsked,
} from '../engine/findings';
import type { DataTable } from '../../shared-types/fit';
import type { Measurement } from '../../shared-types/trial/measurement';
import { arrange, type ArrangeAnswer, type ArrangeRequest } from '../engine/light';
import type { RehearsalReport, TrialInput } from '../engine/trial';
import { drawBalance, type DrawBalanceInput } from './layout/drawBalance';
import type { FindingsChoice } from './findings/findings';
import { shelfFields } from './light/field';
import { manyFigures, type ShelvesAsked } from './light/potLight';
import { sidesCompared, type SidesInput } from './light/whatIf';
import { rehearsePlanned, rehearsePlannedPart, type RehearsalInput } from './trial/rehearsal';
import { readWorkbook } from '../tables';
import { tryDraw } from './layout/tryDraw';

/** Told now and then how far long work has come. */
export type Progress = (done: number, total: number) => void;

/** Work too long for the screen's thread, by name. The app runs these in a worker. */
export const jobs = {
  findings: (input: { data: FindingsInput; choice: FindingsChoice }, tell: Progress) =>
    findingsOf(input.data, {
      measurementId: input.choice.measurementId,
      onProgress: tell,
      ...(input.choice.index ? { index: input.choice.index } : {}),
    }),
  /** The model that answers, once more without some pots. */
  withoutPots: (
    input: { data: FindingsInput; choice: FindingsChoice; setAside: readonly string[] },
    _tell: Progress,
  ) =>
    findingsOf(input.data, {
      measurementId: input.choice.measurementId,
      ...(input.choice.index ? { index: input.choice.index } : {}),
      setAside: input.setAside,
      primaryOnly: true,
    }),
  randomisationTest: (
    input: { data: RandomisationInput; asked: RandomisationAsked },
    tell: Progress,
  ) => randomisationTest(input.data, input.asked, tell),
  series: (
    input: { data: FindingsInput; measurement: Measurement; confidence: number },
    _tell: Progress,
  ) => growthSeries(input.data, input.measurement, input.confidence),
  tableRandomisationTest: (
    input: { table: DataTable; reading: TableReading; asked: TableRandomisationAsked },
    tell: Progress,
  ) => tableRandomisationTest(input.table, input.reading, input.asked, tell),
  findingsOfTable: (input: { table: DataTable; reading: TableReading }, _tell: Progress) =>
    findingsOfTable(input.table, input.reading),
  rehearsal: (input: RehearsalInput, tell: Progress): RehearsalReport =>
    rehearsePlanned(input, tell),
  rehearsalPart: rehearsePlannedPart,
  arrange: (input: ArrangeRequest, tell: Progress): ArrangeAnswer => arrange(input, tell),
  lightFigures: (input: ShelvesAsked, tell: Progress) => manyFigures(input, tell),
  lightFields: (input: ShelvesAsked, tell: Progress) => shelfFields(input, tell),
  lightSides: (input: SidesInput, _tell: Progress) => sidesCompared(input),
  /** Free and constrained draws side by side. */
  tryDraw: (input: TrialInput, tell: Progress) => tryDraw(input, tell),
  drawBalance: (input: DrawBalanceInput, tell: Progress) => drawBalance(input, tell),
  workbook: (input: { bytes: Uint8Array }, _tell: Progress) => readWorkbook(input.bytes),
};

export type Jobs = typeof jobs;
export type JobName = keyof Jobs;
export type JobInput<Name extends JobName> = Parameters<Jobs[Name]>[0];
export type JobResult<Name extends JobName> = Awaited<ReturnType<Jobs[Name]>>;

/** Work under way. `cancel` ends it at once; the result then never comes. */
export interface RunningJob<Result> {
  result: Promise<Result>;
  cancel(): void;
}

/** Starts a job away from the screen's thread. */
export type StartJob = <Name extends JobName>(
  name: Name,
  input: JobInput<Name>,
  tell: Progress,
) => RunningJob<JobResult<Name>>;
