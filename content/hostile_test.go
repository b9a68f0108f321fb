package content

// hostileCase is a folder that does not want to be read.
type hostileCase struct{ name, rule string }

func hostile() []hostileCase { return nil }
