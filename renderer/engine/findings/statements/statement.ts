/** A sentence of the findings and what it rests on. */
export interface Statement {
  about: 'pots' | 'factor' | 'interaction' | 'contrast' | 'edge' | 'light' | 'position' | 'check';
  /** The factor or interaction it speaks of. */
  of?: string;
  text: string;
}
