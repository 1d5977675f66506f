export { IncidentForm } from './incidents/IncidentForm';
export { RecordsLegend } from './RecordsLegend';
export { RecordsSide } from './RecordsSide';
export { recordsLook } from './look';
