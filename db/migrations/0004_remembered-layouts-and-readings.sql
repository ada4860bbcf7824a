CREATE TABLE "layouts" (
	"machine_id" text NOT NULL,
	"id" text NOT NULL,
	"site_id" text NOT NULL,
	"layout" jsonb NOT NULL,
	"reading" jsonb NOT NULL,
	"author" text,
	"file_name" text,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"used_at" timestamp with time zone,
	CONSTRAINT "layouts_machine_id_id_pk" PRIMARY KEY("machine_id","id")
);
--> statement-breakpoint
ALTER TABLE "logs" ADD COLUMN "reading" jsonb;--> statement-breakpoint
ALTER TABLE "logs" ADD COLUMN "replaces" text;--> statement-breakpoint
ALTER TABLE "layouts" ADD CONSTRAINT "layouts_machine_id_machines_id_fk" FOREIGN KEY ("machine_id") REFERENCES "public"."machines"("id") ON DELETE cascade ON UPDATE no action;