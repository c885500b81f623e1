package desk

// Remembered is how many texts of forms a desk remembers.
func Remembered(d *Desk) int {
	d.shown.mu.Lock()
	defer d.shown.mu.Unlock()
	return len(d.shown.by)
}

// Later has what somebody typed for publishing be older than the desk remembers it.
func Later(d *Desk) {
	d.publish.mu.Lock()
	defer d.publish.mu.Unlock()
	d.publish.at = d.publish.at.Add(-2 * secretTime)
}
