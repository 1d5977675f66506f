export { QuickStart } from './QuickStart';
