export { RackCanvas } from './RackCanvas';
export type { RackCanvasProps } from './RackCanvas';
export { BARE_LOOK } from './look';
export type { BlockOutline, PointMark, PotMark, PotPaint, RackLook, FieldOverlay } from './look';
export { duplicateAside, removeThings } from './boundCommands';
export { addLampOver, setGridIn } from './addCommands';
export { gridFittedToTray } from './gestures/addArithmetic';
export { shelfToShow, tools } from './canvasPort';
export type { Tool } from './canvasPort';
