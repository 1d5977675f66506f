export { IncidentForm } from './incidents/IncidentForm';
export { RecordsLegend } from './RecordsLegend';
export { RecordsSide } from './RecordsSide';
export { recordKeys } from './keyWords';
export { recordsLook } from './look';
