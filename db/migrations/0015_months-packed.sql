ALTER TABLE "machine_months" ADD COLUMN "kind_table" "bytea";--> statement-breakpoint
ALTER TABLE "machine_months" ADD COLUMN "narrow_rest" "bytea";--> statement-breakpoint
ALTER TABLE "machine_months" ADD COLUMN "narrow_layout" integer;