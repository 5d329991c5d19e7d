export { DrawingView, type DrawingViewProps } from './drawing-view.tsx'
