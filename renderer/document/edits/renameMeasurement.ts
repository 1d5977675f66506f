import type { Trial } from '../../../shared-types/trial/trial';
import type { Measurement } from '../../../shared-types/trial/measurement';

const quantityOf = ({ quantity, name }: Measurement): string => quantity ?? name;

/** The others that could be the same thing at another time. */
function likeIt(trial: Trial, measurement: Measurement): Measurement[] {
  const { id, kind, unit } = measurement;
  return trial.measurements.filter((m) => m.id !== id && m.kind === kind && m.unit === unit);
}

/**
 * Calls a measurement of a draft otherwise. What it is of stays as long as others like it are of
 * that quantity, so that a name never decides which values are one thing at several times.
 */
export function renameMeasurement(trial: Trial, measurement: Measurement, name: string): void {
  if (name === measurement.name) return;
  const quantity = quantityOf(measurement);
  const shared = likeIt(trial, measurement).some((m) => quantityOf(m) === quantity);
  measurement.name = name;
  if (shared) setQuantity(measurement, quantity);
  else joinNamesake(trial, measurement);
}

/** A measurement of a draft that bears the name of another like it is of the same quantity. */
export function joinNamesake(trial: Trial, measurement: Measurement): void {
  const namesake = likeIt(trial, measurement).find((m) => m.name === measurement.name);
  setQuantity(measurement, namesake ? quantityOf(namesake) : measurement.name);
}

function setQuantity(measurement: Measurement, quantity: string): void {
  if (quantity === measurement.name) delete measurement.quantity;
  else measurement.quantity = quantity;
}
