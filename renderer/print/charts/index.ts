export { keyPages, type ChartJob } from './chartPage';
export { landmarksOf } from './landmarks';
export { orderPages } from './orderOfWork/orderPages';
export { rackPage, shelfPage } from './shelfPages';
export { trayPages } from './trayPages';
export { trueSizePages } from './trueSize/pages';
