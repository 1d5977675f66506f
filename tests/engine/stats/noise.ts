import { stream } from '../../../renderer/engine/trial/stream';

/** Standard normal numbers, the same for a seed on every machine. */
export function normals(seed: number): () => number {
  const random = stream(String(seed), 'noise');
  return () => random.normal();
}
